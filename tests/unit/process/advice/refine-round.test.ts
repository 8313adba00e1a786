import { describe, expect, it } from 'vitest';
import { dialledSettings } from '../../../../server/process/advice/dial-steps.ts';
import { leastEffort, weighOpen } from '../../../../server/process/advice/choose-next-round.ts';
import { expectedEffort } from '../../../../server/process/advice/expected-effort.ts';
import { refineRound } from '../../../../server/process/advice/refine-round.ts';
import { planRound } from '../../../../server/process/advice/round-prospect.ts';
import { sampleBelief } from '../../../../server/process/belief/belief-sample.ts';
import { believeSurface } from '../../../../server/process/belief/surface-belief.ts';
import { removalPriorOf } from '../../../../server/domain/removal/removal-prior.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';
import { zoneHistory } from '../../../support/treated-zone.ts';

const gentle = settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 40, travelSpeedMmPerS: 21 });

describe('refineRound', () => {
  const history = zoneHistory({ rounds: [{ settings: gentle, before: 0.9, after: 0.3 }] });
  const planning = planRound(history, sampleBelief(believeSurface(history, removalPriorOf('light rust')), 64));
  const coarse = leastEffort(planning, weighOpen(planning));

  it('finds a round on the dial of the machine that is expected to take no longer than the coarse one', () => {
    const fine = refineRound(planning, coarse, (choices) => weighOpen(planning, choices));
    expect(expectedEffort(planning, fine)).toBeLessThanOrEqual(expectedEffort(planning, coarse));
    expect(dialledSettings(fine.settings, LINE_MACHINE)).toEqual(fine.settings);
  });

  it('keeps the coarse round where nothing near it may be chosen', () => {
    expect(refineRound(planning, coarse, () => [])).toBe(coarse);
  });

  it('looks at rounds with more and with less energy, of deeper and of gentler strokes', () => {
    const looked: (readonly [number, number])[] = [];
    refineRound(planning, coarse, (choices) => {
      looked.push(...choices.map((s) => [s.scanWidthMm * s.scanFrequencyHz, s.travelSpeedMmPerS / s.passes] as const));
      return [];
    });
    const { scanWidthMm, scanFrequencyHz, travelSpeedMmPerS, passes } = coarse.settings;
    const speed = scanWidthMm * scanFrequencyHz;
    const pace = travelSpeedMmPerS / passes;
    expect(looked.some(([stroke]) => stroke < speed)).toBe(true);
    expect(looked.some(([stroke]) => stroke > speed)).toBe(true);
    expect(looked.some(([stroke, walk]) => stroke === speed && walk < pace)).toBe(true);
    expect(looked.length).toBeLessThanOrEqual(16);
  });
});
