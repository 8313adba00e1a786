import { ciede2000Metric } from '../colour/ciede2000.ts';
import { gaussianBlur } from '../raster/gaussian-blur.ts';
import { maskedMean } from '../raster/masked-mean.ts';
import { byteMask, plane } from '../raster/plane.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';
import { HALF_AMPLITUDE_SIGMA } from './texture-band.ts';
import type { TexturedArea } from './texture-contrast.ts';

/** Wavelengths in mm at whose ends half the amplitude passes. */
export interface Wavelengths {
  readonly finestMm: number;
  readonly coarsestMm: number;
}

/**
 * Square of the texture in lightness at each pixel that counts, CIEDE2000 squared; 0 elsewhere. A difference of two Gaussians,
 * both made to sum to one over what counts, so that nothing from beside it leaks in. Lightness alone: files keep colour at half
 * the resolution, and its noise is not that of their lightness.
 */
export function lightnessBandSquares({ lab, mask, stepMm }: TexturedArea, band: Wavelengths): Plane {
  const [L, a, b] = [lab.L, lab.a, lab.b].map(({ values }) => maskedMean(values, mask));
  const [perL] = ciede2000Metric({ L, a, b });
  const counted = onesOf(mask);
  const centred = plane(mask.width, mask.height);
  for (let i = 0; i < mask.values.length; i++) if (mask.values[i] !== 0) centred.values[i] = lab.L.values[i] - L;
  const meanOver = (wavelengthMm: number): Float32Array => {
    const sigma = (wavelengthMm * HALF_AMPLITUDE_SIGMA) / stepMm;
    const weights = gaussianBlur(counted, sigma).values;
    return gaussianBlur(centred, sigma).values.map((sum, i) => (counted.values[i] === 0 ? 0 : sum / weights[i]));
  };
  const fine = meanOver(band.finestMm);
  const coarse = meanOver(band.coarsestMm);
  const squares = plane(mask.width, mask.height);
  for (let i = 0; i < fine.length; i++) squares.values[i] = perL * (fine[i] - coarse[i]) ** 2;
  return squares;
}

/** Part of a pixel's surroundings that must count for its texture to be seen: scraps have nothing to differ from. */
const LEAST_SURROUNDINGS = 0.5;

/** What of a mask has surroundings inside it, as a Gaussian that passes half the amplitude at a wavelength weighs them. */
export function wellSurrounded(mask: ByteMask, wavelengthMm: number, stepMm: number): ByteMask {
  const weights = gaussianBlur(onesOf(mask), (wavelengthMm * HALF_AMPLITUDE_SIGMA) / stepMm).values;
  const out = byteMask(mask.width, mask.height);
  for (let i = 0; i < weights.length; i++) {
    out.values[i] = mask.values[i] !== 0 && weights[i] > LEAST_SURROUNDINGS ? 1 : 0;
  }
  return out;
}

function onesOf(mask: ByteMask): Plane {
  const ones = plane(mask.width, mask.height);
  for (let i = 0; i < ones.values.length; i++) ones.values[i] = mask.values[i] === 0 ? 0 : 1;
  return ones;
}
