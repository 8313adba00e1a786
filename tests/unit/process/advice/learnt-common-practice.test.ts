import { describe, expect, it } from 'vitest';
import { roundSchema, type EarlierZone, type Settings } from '../../../../server/domain/index.ts';
import { adviseNextRound } from '../../../../server/process/advice/advise-next-round.ts';
import { predictedResidue } from '../../../../server/process/advice/predicted-residue.ts';
import { residueAfterDose, sampleBelief } from '../../../../server/process/belief/belief-sample.ts';
import { pooledPrior, zonesOfKind } from '../../../../server/process/belief/pooled-prior.ts';
import { believeSurface } from '../../../../server/process/belief/surface-belief.ts';
import { removalPriorOf } from '../../../../server/domain/removal/removal-prior.ts';
import { roundDose } from '../../../../server/domain/removal/round-dose.ts';
import { leastProcessorMs } from '../../../support/processor-time.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';
import { zoneHistory } from '../../../support/treated-zone.ts';

/** What the shop's earlier zones showed: two that came off in part, one that came clean under deeper strokes. */
const treated = (settings: Settings, before: number, after: number) =>
  roundSchema.parse({
    settings,
    before: { residueFraction: before },
    after: { residueFraction: after, low: Math.max(0, after - 0.02), high: after + 0.02 },
  });
const gentle = settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 60, travelSpeedMmPerS: 15 });
const deep = settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 12, travelSpeedMmPerS: 6 });
const zones: EarlierZone[] = [
  { surface: 'heavy pitted rust', rounds: [treated(gentle, 0.9, 0.7), treated(deep, 0.7, 0.1)] },
  { surface: 'heavy pitted rust', rounds: [treated(gentle, 0.92, 0.62)] },
  { surface: 'heavy pitted rust', rounds: [treated(deep, 0.95, 0.05)] },
];

const kind = 'heavy pitted rust';
const prior = pooledPrior(removalPriorOf(kind), LINE_MACHINE, zonesOfKind(zones, kind));
const sample = sampleBelief(believeSurface(zoneHistory({ surface: kind }), prior), 128);
const residueOf = (change: Parameters<typeof settingsOf>[0]): number => {
  const dose = roundDose(settingsOf({ powerW: 1500, travelSpeedMmPerS: 6, ...change }), LINE_MACHINE);
  return predictedResidue(Float64Array.from({ length: 128 }, (_, i) => residueAfterDose(sample, i, dose))).value;
};

describe('common practice on what the shop has learnt', () => {
  it('30 Hz bites deeper than 50 Hz, and 50 Hz deeper than 100 Hz, at equal power and width', () => {
    const at = (scanFrequencyHz: number): number => residueOf({ scanWidthMm: 200, scanFrequencyHz });
    expect(at(30)).toBeLessThan(at(50));
    expect(at(50)).toBeLessThan(at(100));
  });

  it('100 mm bites deeper than 300 mm', () => {
    expect(residueOf({ scanWidthMm: 100, scanFrequencyHz: 40 })).toBeLessThan(
      residueOf({ scanWidthMm: 300, scanFrequencyHz: 40 }),
    );
  });

  it('extra passes of a weak stroke add little where slower strokes add much', () => {
    const weak = { scanWidthMm: 300, scanFrequencyHz: 150 };
    const gainOfPasses = residueOf({ ...weak, passes: 2 }) - residueOf({ ...weak, passes: 4 });
    const gainOfStroke = residueOf({ ...weak, passes: 2 }) - residueOf({ ...weak, scanFrequencyHz: 15, passes: 2 });
    expect(gainOfStroke).toBeGreaterThan(1.8 * gainOfPasses);
  });

  it('the higher frequency leaves the smoother surface: a lower one is advised with a word about it', () => {
    const cautionsAfter = (last: Settings): string => {
      const rounds = [{ settings: last, before: 0.9, after: 0.6, half: 0.02 }];
      const advice = adviseNextRound({ ...zoneHistory({ surface: kind, rounds }), earlierZones: zones });
      if (!advice.ok) throw new Error(JSON.stringify(advice.fault));
      const [first] = advice.value.suggestions;
      expect(first.settings.scanFrequencyHz).toBeLessThan(last.scanFrequencyHz);
      return first.cautions.join(' ');
    };
    expect(cautionsAfter(settingsOf({ ...gentle, scanFrequencyHz: 150 }))).toContain('coarser surface');
  });

  it('stripes mean that the beam was not long enough on the metal: the same strokes leave none of them to a slower hand', () => {
    // Two strokes a cycle at 10 Hz: the pitch is 1.5 mm at 30 mm/s and 0.3 mm at 6 mm/s, the spot 0.6 mm.
    const strokes = { scanWidthMm: 100, scanFrequencyHz: 10 };
    expect(residueOf({ ...strokes, travelSpeedMmPerS: 30 })).toBeGreaterThan(0.4);
    expect(residueOf({ ...strokes, travelSpeedMmPerS: 6 })).toBeLessThan(0.1);
  });

  it('full width at a lower frequency is tried before the width is cut', () => {
    const rounds = [{ settings: gentle, before: 0.9, after: 0.7, half: 0.02 }];
    const advice = adviseNextRound({ ...zoneHistory({ surface: kind, rounds }), earlierZones: zones });
    if (!advice.ok) throw new Error(JSON.stringify(advice.fault));
    const [first] = advice.value.suggestions;
    expect(first.settings.scanWidthMm).toBe(300);
    expect(first.settings.scanFrequencyHz).toBeLessThan(gentle.scanFrequencyHz);
  });

  it('a tight oxide that resisted ten passes asks for another method, whatever other kinds have taught', () => {
    const rounds = [
      {
        settings: settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 30, passes: 10 }),
        before: 0.95,
        after: 0.94,
      },
    ];
    const advice = adviseNextRound({ ...zoneHistory({ surface: 'smooth tight oxide', rounds }), earlierZones: zones });
    expect(advice.ok && advice.value.verdict).toBe('change method');
  });

  it('answers within 300 ms with eight earlier zones', () => {
    const many = Array.from({ length: 8 }, () => zones[0]);
    const history = {
      ...zoneHistory({ surface: kind, rounds: [{ settings: gentle, before: 0.9, after: 0.7 }] }),
      earlierZones: many,
    };
    expect(leastProcessorMs(8, () => adviseNextRound(history))).toBeLessThan(300);
  });
});
