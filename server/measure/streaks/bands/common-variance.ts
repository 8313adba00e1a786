import type { StripProfiles } from './strip-profiles.ts';

export type Channel = 'lightness' | 'chroma';

type StripCounts = Pick<StripProfiles, 'strips' | 'bins' | 'weight'>;

/**
 * Variance of what all strips have in common after a step filter: mean product of different strips that are not neighbours,
 * so that what is not drawn through from strip to strip averages to nothing (it may come out negative).
 *
 * | in: value | running sums of a signal, as those of {@link StripProfiles}            |
 * | in: reach | half-width of the step filter, bins                                    |
 * | out       | dE00 squared of steps between neighbouring stretches of that half-width |
 *
 * Source: the unbiased product of repeats; the step filter is the difference of two running means.
 */
export function commonVariance(profiles: StripCounts, value: Float64Array, reach: number): number {
  const { strips, bins, weight } = profiles;
  const stride = Math.max(1, Math.floor(reach / 3));
  const places = Math.max(0, Math.floor((bins - 2 * reach) / stride) + 1);
  const zeros = (): Float64Array => new Float64Array(places);
  const [all, allTrust, last, lastTrust] = [zeros(), zeros(), zeros(), zeros()];
  let [same, sameTrust] = [0, 0];
  for (let s = 0; s < strips; s++) {
    let at = s * (bins + 1) + reach;
    for (let p = 0; p < places; p++, at += stride) {
      const before = weight[at] - weight[at - reach];
      const after = weight[at + reach] - weight[at];
      let [trust, step] = [0, 0];
      if (before > 0 && after > 0) {
        const [left, right] = [value[at] - value[at - reach], value[at + reach] - value[at]];
        trust = before < after ? before : after;
        step = before < after ? (right * before) / after - left : right - (left * after) / before;
      }
      all[p] += step;
      allTrust[p] += trust;
      same += step * (step + 2 * last[p]);
      sameTrust += trust * (trust + 2 * lastTrust[p]);
      last[p] = step;
      lastTrust[p] = trust;
    }
  }
  const pairs = sumOfSquares(allTrust) - sameTrust;
  return pairs > 0 ? (sumOfSquares(all) - same) / pairs : 0;
}

const sumOfSquares = (values: Float64Array): number => values.reduce((sum, v) => sum + v * v, 0);

/** {@link commonVariance} over the variance of the steps within strips: what share of it all strips have in common. */
export function commonShare(profiles: StripCounts, value: Float64Array, reach: number): number {
  const { strips, bins, weight } = profiles;
  const stride = Math.max(1, Math.floor(reach / 3));
  let [squares, trust] = [0, 0];
  for (let s = 0; s < strips; s++) {
    const start = s * (bins + 1);
    for (let at = start + reach; at + reach <= start + bins; at += stride) {
      const before = weight[at] - weight[at - reach];
      const after = weight[at + reach] - weight[at];
      if (before <= 0 || after <= 0) continue;
      const step = (value[at + reach] - value[at]) / after - (value[at] - value[at - reach]) / before;
      const least = Math.min(before, after);
      squares += (least * step) ** 2;
      trust += least * least;
    }
  }
  return squares > 0 ? (commonVariance(profiles, value, reach) * trust) / squares : 0;
}
