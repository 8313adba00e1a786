import { ciede2000Metric } from '../../colour/ciede2000.ts';
import type { Lab } from '../../colour/cie-lab.ts';
import type { StripeSamples } from './stripe-samples.ts';

const BINS = 8;

/**
 * How alike the periods are: intraclass correlation of the periods' profiles, each about its own mean. Stripes of one cause look
 * alike; lines of a brush or a grinder whose spectrum happens to peak do not. 1 for the same profile in every period, about 0
 * for unlike ones; null where fewer than two periods are there.
 *
 * Source: R. A. Fisher, Statistical Methods for Research Workers, 1925, intraclass correlations (from memory) [FISHER1925].
 */
export function stripeLikeness(samples: StripeSamples, { core, ground }: { core: Lab; ground: Lab }): number | null {
  const metric = ciede2000Metric(ground);
  const step = [core.L - ground.L, core.a - ground.a, core.b - ground.b];
  const [rowL, rowA, rowB] = [0, 1, 2].map((i) => step.reduce((sum, v, j) => sum + v * metric[3 * i + j], 0));
  const periods = new Map<number, Period>();
  for (let i = 0; i < samples.count; i++) {
    const number = Math.floor(samples.cycles[i]);
    const period = periods.get(number) ?? { sums: new Float64Array(BINS), counts: new Float64Array(BINS) };
    periods.set(number, period);
    const bin = Math.min(BINS - 1, Math.floor((samples.cycles[i] - number) * BINS));
    period.sums[bin] += rowL * samples.L[i] + rowA * samples.a[i] + rowB * samples.b[i];
    period.counts[bin]++;
  }
  return likenessOf([...periods.values()].filter(({ counts }) => counts.every((n) => n > 0)));
}

interface Period {
  readonly sums: Float64Array;
  readonly counts: Float64Array;
}

function likenessOf(periods: readonly Period[]): number | null {
  const mean = new Float64Array(BINS);
  let [all, total, squares] = [0, 0, 0];
  for (const { sums, counts } of periods) {
    const n = counts.reduce((sum, count) => sum + count, 0);
    const profile = sums.map((sum, k) => sum / counts[k]);
    const middle = profile.reduce((sum, v) => sum + v, 0) / BINS;
    total += n;
    squares += n * n;
    profile.forEach((v, k) => {
      mean[k] += n * (v - middle);
      all += (n * (v - middle) ** 2) / BINS;
    });
  }
  const chance = squares / (total * total);
  if (periods.length < 2 || !(all > 0)) return null;
  const kept = (total * mean.reduce((sum, v) => sum + (v / total) ** 2, 0)) / BINS / all;
  return (kept - chance) / (1 - chance);
}
