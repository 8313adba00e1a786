import { chainColourMatrices, invertColourMatrix } from './colour-matrix.ts';
import type { ColourMatrix } from './colour-matrix.ts';
import type { WhitePoint } from './white-point.ts';

/** XYZ to sharpened cone responses. Source: [LINDBLOOM] after Lam 1985. */
const BRADFORD: ColourMatrix = [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296];
const BRADFORD_INVERSE = invertColourMatrix(BRADFORD);

/**
 * Matrix that turns XYZ seen under one white into the XYZ of the corresponding colour under another (linear Bradford
 * adaptation). It maps white onto white exactly; other colours are a model's estimate, good to a few CIEDE2000 for
 * strong changes such as A to D50.
 * Source: [LINDBLOOM].
 */
export function bradfordMatrix(from: WhitePoint, to: WhitePoint): ColourMatrix {
  const B = BRADFORD;
  const gain = (row: number): number =>
    (B[row] * to[0] + B[row + 1] * to[1] + B[row + 2] * to[2]) /
    (B[row] * from[0] + B[row + 1] * from[1] + B[row + 2] * from[2]);
  const scale: ColourMatrix = [gain(0), 0, 0, 0, gain(3), 0, 0, 0, gain(6)];
  return chainColourMatrices(BRADFORD_INVERSE, chainColourMatrices(scale, B));
}
