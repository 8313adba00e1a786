import { ciede2000Metric } from '../colour/ciede2000.ts';
import { gaussianBlur } from '../raster/gaussian-blur.ts';
import { maskedMean } from '../raster/masked-mean.ts';
import { plane } from '../raster/plane.ts';
import type { Plane } from '../raster/plane.ts';
import { HALF_AMPLITUDE_SIGMA } from './texture-band.ts';
import type { TexturedArea } from './texture-contrast.ts';

/**
 * Ends of the band, wavelengths in mm, where half the amplitude passes: inside the band of texture, long enough for a hand-held
 * photo to show it and short enough for a place of a few millimetres to tell its own texture.
 */
const FINEST_MM = 1;
const COARSEST_MM = 2.2;

/**
 * Square of the fine texture in lightness at each pixel that counts, CIEDE2000 squared; 0 elsewhere. A difference of two
 * Gaussians, both made to sum to one over what counts, so that nothing from beside it leaks in. Lightness alone: files keep
 * colour at half the resolution, and its noise is not that of their lightness.
 */
export function fineLightnessSquares({ lab, mask, stepMm }: TexturedArea): Plane {
  const [L, a, b] = [lab.L, lab.a, lab.b].map(({ values }) => maskedMean(values, mask));
  const [perL] = ciede2000Metric({ L, a, b });
  const counted = plane(mask.width, mask.height);
  const centred = plane(mask.width, mask.height);
  for (let i = 0; i < mask.values.length; i++) {
    if (mask.values[i] === 0) continue;
    counted.values[i] = 1;
    centred.values[i] = lab.L.values[i] - L;
  }
  const meanAt = (wavelengthMm: number): Float32Array => {
    const sigma = (wavelengthMm * HALF_AMPLITUDE_SIGMA) / stepMm;
    const weights = gaussianBlur(counted, sigma).values;
    return gaussianBlur(centred, sigma).values.map((sum, i) => (counted.values[i] === 0 ? 0 : sum / weights[i]));
  };
  const fine = meanAt(FINEST_MM);
  const coarse = meanAt(COARSEST_MM);
  const squares = plane(mask.width, mask.height);
  for (let i = 0; i < fine.length; i++) squares.values[i] = perL * (fine[i] - coarse[i]) ** 2;
  return squares;
}
