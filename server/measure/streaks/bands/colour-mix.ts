import { commonVariance } from './common-variance.ts';
import type { StripProfiles } from './strip-profiles.ts';

/** How stripes differ from the ground in lightness and chroma, and the mix of both signals that shows them best. */
export interface ColourMix {
  /** Unit vector from ground to stripe, dE00: lightness is negative where stripes are darker. */
  readonly lightness: number;
  readonly chroma: number;
  /** Weights of the two signals; a stripe of depth d in its colour gives d. */
  readonly mix: readonly [number, number];
}

/** A difference in lightness with less than this share of the whole leaves the sign to chroma. */
const LEAST_LIGHTNESS_SHARE = 0.03;

/**
 * Fisher's discriminant of stripe against noise with the two noises taken as independent.
 * Source: R. A. Fisher, Ann. Eugenics 7, 179-188 (1936) (from memory) [FISHER1936].
 */
export function colourMix(profiles: StripProfiles, reach: number): ColourMix {
  const light = Math.max(0, commonVariance(profiles, profiles.lightness, reach));
  const chroma = Math.max(0, commonVariance(profiles, profiles.chroma, reach));
  const sum = profiles.lightness.map((v, i) => v + profiles.chroma[i]);
  const together = (commonVariance(profiles, sum, reach) - light - chroma) / 2;
  const size = Math.sqrt(light + chroma) || 1;
  let unit: [number, number] = [-Math.sqrt(light) / size, ((together > 0 ? -1 : 1) * Math.sqrt(chroma)) / size];
  if (unit[0] ** 2 < LEAST_LIGHTNESS_SHARE && unit[1] < 0) unit = [-unit[0], -unit[1]];
  const raw = [
    unit[0] / stripNoise(profiles, profiles.lightness),
    unit[1] / stripNoise(profiles, profiles.chroma),
  ] as const;
  const scale = raw[0] * unit[0] + raw[1] * unit[1] || 1;
  return { lightness: unit[0], chroma: unit[1], mix: [raw[0] / scale, raw[1] / scale] };
}

/** Squares beyond this, dE00 squared, are patches rather than noise. */
const MOST_SQUARE = 9;
const LEAST_NOISE = 1e-3;

/** Variance of a bin's mean within a strip: half the mean square of strips two apart. */
function stripNoise({ strips, bins, weight }: StripProfiles, value: Float64Array): number {
  const apart = 2 * (bins + 1);
  let [squares, count] = [0, 0];
  for (let s = 0; s + 2 < strips; s++) {
    for (let t = 0, i = s * (bins + 1); t < bins; t++, i++) {
      const here = weight[i + 1] - weight[i];
      const there = weight[i + apart + 1] - weight[i + apart];
      if (here < 2 || there < 2) continue;
      const difference = (value[i + 1] - value[i]) / here - (value[i + apart + 1] - value[i + apart]) / there;
      squares += Math.min(MOST_SQUARE, difference ** 2);
      count++;
    }
  }
  return count === 0 ? 1 : Math.max(LEAST_NOISE, squares / count / 2);
}
