import { CURVE_POINTS } from '../../domain/picture-light.ts';
import type { PictureLight } from '../../domain/picture-light.ts';
import { solveSymmetric } from '../geometry/solve-symmetric.ts';
import { dampedLogLight } from './apply-normalisation.ts';
import { applyCorrection } from './correction-model.ts';
import type { CorrectionModel } from './correction-model.ts';
import { undoTone } from './neutral-response.ts';
import type { NeutralResponse } from './neutral-response.ts';
import type { ColourNormalisation } from './normalise-colour.ts';
import { fieldAt } from './smooth-field.ts';
import { decodeSrgb, encodeSrgb } from './srgb.ts';

type Rgb = readonly [number, number, number];

/** Half of the darkest code that is not black: black says no more than "below this". */
const DARKEST = decodeSrgb(1 / 255) / 2;
/** Linear levels whose mixtures stand for what surfaces send back, from wet rust to blank steel. */
const LEVELS = [0.03, 0.08, 0.2, 0.4, 0.7] as const;
/** Colours further from grey than this, largest channel over smallest, are not seen on steel. Chosen by hand. */
const MOST_CHROMA = 5;

/**
 * The normalisation of a photo in the form in which a browser can apply it to the photo as it is shown. Exact at the points
 * of the curves but for what is clipped at white; a root-polynomial map is replaced by the matrix that fits it best over
 * colours of steel. Null without a usable card: nobody knows the light then.
 *
 * @param middleMm middle of the zone in the card frame
 */
export function pictureLight(
  { response, model }: ColourNormalisation,
  middleMm: readonly number[],
): PictureLight | null {
  if (response === null) return null;
  const matrix = matrixOf(model);
  if (matrix === null) return null;
  return {
    curves: {
      red: curveOf(response, 0, middleMm),
      green: curveOf(response, 1, middleMm),
      blue: curveOf(response, 2, middleMm),
    },
    matrix,
  };
}

function curveOf(
  { toneCorrection, logGain, logLightPerMm, centreMm, shade }: NeutralResponse,
  channel: 0 | 1 | 2,
  [x, y]: readonly number[],
): number[] {
  const fall =
    dampedLogLight(logLightPerMm[0] * (x - centreMm[0]) + logLightPerMm[1] * (y - centreMm[1])) +
    (shade === null ? 0 : fieldAt(shade, [x, y]));
  return Array.from({ length: CURVE_POINTS }, (_, point) => {
    const decoded = Math.max(decodeSrgb(point / (CURVE_POINTS - 1)), DARKEST);
    const light = Math.exp(undoTone(toneCorrection, Math.log(decoded)) - logGain[channel] - fall);
    return Math.min(1, Math.max(0, encodeSrgb(light)));
  });
}

function matrixOf(model: CorrectionModel): number[] | null {
  if (model.kind !== 'root-polynomial') return [...model.coefficients];
  const colours = LEVELS.flatMap((r) => LEVELS.flatMap((g) => LEVELS.map((b): Rgb => [r, g, b]))).filter(
    (colour) => Math.max(...colour) <= MOST_CHROMA * Math.min(...colour),
  );
  const normal = new Float64Array(9);
  const right = [new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  const [terms, truth] = [new Float64Array(6), new Float64Array(3)];
  for (const colour of colours) {
    applyCorrection(model, colour, terms, truth);
    // By parts of the light, so that dark rust counts as much as blank steel.
    const weight = 1 / (colour[0] + colour[1] + colour[2]) ** 2;
    for (let row = 0; row < 3; row++) {
      for (let column = 0; column < 3; column++) normal[3 * row + column] += weight * colour[row] * colour[column];
      for (let out = 0; out < 3; out++) right[out][row] += weight * colour[row] * truth[out];
    }
  }
  const rows = right.map((side) => solveSymmetric(normal, side, 3));
  return rows.some((row) => row === null) ? null : rows.flatMap((row) => [...(row ?? [])]);
}
