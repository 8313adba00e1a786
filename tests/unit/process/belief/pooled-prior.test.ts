import { describe, expect, it } from 'vitest';
import { type EarlierZone, roundSchema } from '../../../../server/domain/index.ts';
import { adviseNextRound } from '../../../../server/process/advice/advise-next-round.ts';
import { pooledPrior, zonesOfKind } from '../../../../server/process/belief/pooled-prior.ts';
import { removalPriorOf } from '../../../../server/domain/removal/removal-prior.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';
import { zoneHistory } from '../../../support/treated-zone.ts';

const settings = settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 40, travelSpeedMmPerS: 20 });
const zoneThatEndedAt = (after: number, surface = 'mill scale'): EarlierZone => ({
  surface,
  rounds: [
    roundSchema.parse({
      settings,
      before: { residueFraction: 0.9 },
      after: { residueFraction: after, low: Math.max(0, after - 0.02), high: Math.min(1, after + 0.02) },
    }),
  ],
});
const prior = removalPriorOf('mill scale');
const learnedFrom = (zones: readonly EarlierZone[]) => pooledPrior(prior, LINE_MACHINE, zones).learned;

describe('what a shop’s earlier zones teach', () => {
  it('is nothing without zones of the kind', () => {
    expect(pooledPrior(prior, LINE_MACHINE, [])).toBe(prior);
    expect(zonesOfKind([zoneThatEndedAt(0.1, 'light rust')], 'mill scale')).toEqual([]);
    expect(zonesOfKind([zoneThatEndedAt(0.1, 'blue mill scale')], 'mill scale')).toHaveLength(1);
  });

  it('moves the threshold down after zones that came clean and up after zones that resisted', () => {
    const easy = learnedFrom([zoneThatEndedAt(0.03), zoneThatEndedAt(0.04)]);
    const hard = learnedFrom([zoneThatEndedAt(0.88), zoneThatEndedAt(0.87)]);
    expect(easy?.mean[0]).toBeLessThan(-0.2);
    expect(hard?.mean[0]).toBeGreaterThan(0.05);
  });

  it('narrows with every zone and never below what zones differ by', () => {
    const widths = [1, 2, 4, 8].map((count) => {
      const learned = learnedFrom(Array.from({ length: count }, () => zoneThatEndedAt(0.2)));
      return learned?.deviation[0] ?? NaN;
    });
    for (let i = 1; i < widths.length; i++) expect(widths[i]).toBeLessThan(widths[i - 1]);
    expect(widths[0]).toBeLessThan(1);
    // The part of the variance between zones, 0.4, stays.
    expect(widths[3]).toBeGreaterThan(Math.sqrt(0.4));
  });

  it('lets a new zone start from what the machine did before', () => {
    const expected = (earlierZones: EarlierZone[]) => {
      const advice = adviseNextRound({ ...zoneHistory({ surface: 'mill scale' }), earlierZones });
      if (!advice.ok) throw new Error(JSON.stringify(advice.fault));
      return advice.value;
    };
    const fresh = expected([]);
    const easy = expected([zoneThatEndedAt(0.03), zoneThatEndedAt(0.04), zoneThatEndedAt(0.02)]);
    expect(easy.suggestions[0].minutesPerSquareMetre).toBeLessThan(fresh.suggestions[0].minutesPerSquareMetre);
    expect(easy.because).toContain('3 earlier zones');
  });
});
