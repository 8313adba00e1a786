import { describe, expect, it } from 'vitest';
import { type History } from '../../../../server/domain/index.ts';
import { believePatches, believeSurface, chanceWithin } from '../../../../server/process/belief/surface-belief.ts';
import type { SurfaceBelief } from '../../../../server/process/belief/surface-belief.ts';
import { removalPriorOf } from '../../../../server/domain/removal/removal-prior.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';
import { type ShortRound, zoneHistory } from '../../../support/treated-zone.ts';

const prior = removalPriorOf('heavy pitted rust');
const settings = settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 30, travelSpeedMmPerS: 10 });
const historyOf = (...rounds: ShortRound[]): History => zoneHistory({ surface: 'heavy pitted rust', rounds });
const mean = ({ weights }: SurfaceBelief, values: Float64Array): number =>
  weights.reduce((sum, weight, i) => sum + weight * values[i], 0);

describe('the belief about a surface', () => {
  it('weighs candidates with weights that sum to one, the same for the same rounds', () => {
    const belief = believeSurface(historyOf({ settings, before: 0.9, after: 0.5, half: 0.02 }), prior);
    expect(belief.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
    expect(believeSurface(historyOf({ settings, before: 0.9, after: 0.5, half: 0.02 }), prior)).toEqual(belief);
  });

  it('still rests on at least 50 points after six rounds (effective sample size, 1 / sum of squared weights)', () => {
    const falling = [0.9, 0.6, 0.45, 0.36, 0.31, 0.27, 0.25];
    const rounds = falling.slice(1).map((after, i) => ({ settings, before: falling[i], after, half: 0.02 }));
    const { weights } = believeSurface(historyOf(...rounds), prior);
    expect(1 / weights.reduce((sum, weight) => sum + weight ** 2, 0)).toBeGreaterThan(50);
  });

  it('lowers the threshold after a round that took much off and raises it after one that took nothing', () => {
    const threshold = (after: number): number => {
      const belief = believeSurface(historyOf({ settings, before: 0.9, after, half: 0.02 }), prior);
      return mean(belief, belief.candidates.lnThreshold);
    };
    expect(threshold(0.05)).toBeLessThan(threshold(0.5));
    expect(threshold(0.5)).toBeLessThan(threshold(0.88));
  });

  it('knows the residue now better than the photo alone', () => {
    const belief = believeSurface(historyOf({ settings, before: 0.9, after: 0.04, half: 0.03 }), prior);
    expect(chanceWithin(belief, 0)).toBeLessThan(0.1);
    expect(chanceWithin(belief, 0.04)).toBeGreaterThan(0.3);
    expect(chanceWithin(belief, 0.2)).toBeGreaterThan(0.99);
  });

  it('lets a scrape test and heat tint count, each a little', () => {
    const of = (evidence: Partial<ShortRound>): SurfaceBelief =>
      believeSurface(historyOf({ settings, before: 0.9, after: 0.2, half: 0.1, ...evidence }), prior);
    const tinted = of({ heatTint: true });
    const plain = of({ heatTint: false });
    // Tint tells of strokes far above the threshold.
    expect(mean(tinted, tinted.candidates.lnThreshold)).toBeLessThan(mean(plain, plain.candidates.lnThreshold));
    const scraped = of({ scrapeTest: 'material came off' });
    const clean = of({ scrapeTest: 'clean' });
    expect(mean(scraped, scraped.residueShare)).toBeGreaterThan(mean(clean, clean.residueShare));
  });

  it('learns from patches side by side what it learns from none of them alone, about an untouched surface', () => {
    const deep = settingsOf({ powerW: 2000, scanWidthMm: 60, scanFrequencyHz: 20, travelSpeedMmPerS: 10 });
    const { rounds } = historyOf(
      { settings, before: 0.9, after: 0.8, half: 0.02 },
      { settings: deep, before: 0.8, after: 0.02, half: 0.02 },
    );
    const patches = rounds.map((round) => ({ ...round, before: rounds[0].before }));
    const belief = believePatches(LINE_MACHINE, patches, prior);
    const spread = (one: SurfaceBelief): number => {
      const middle = mean(one, one.candidates.lnThreshold);
      return Math.sqrt(
        mean(
          one,
          one.candidates.lnThreshold.map((value) => (value - middle) ** 2),
        ),
      );
    };
    expect(spread(belief)).toBeLessThan(spread(believePatches(LINE_MACHINE, [patches[0]], prior)));
    expect(Math.max(...belief.progress)).toBe(0);
  });
});
