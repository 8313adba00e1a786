import type { Outcome, SurfaceClass } from '../../domain/index.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import type { SurfaceView } from '../view-surface.ts';

/** Probability of each class in 1/255, in the order of SURFACE_CLASSES; 0 everywhere outside the measured part. */
export type ClassProbabilities = readonly [Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array];

/** Which of the probabilities are residue: rust, scale, coating. */
export const RESIDUE_PLANES = [2, 3, 4] as const;

/** The zone told apart into classes. */
export interface Segmentation {
  /** Which segmenter spoke, with its version. */
  readonly segmenter: string;
  /** Most probable class per grid pixel (CLASS_CODE); 0 is outside the zone or not measured. */
  readonly codes: ByteMask;
  readonly probabilities: ClassProbabilities;
  /**
   * Probability, in 1/255, that a pixel lacked dwell under the last round, as stripes and seams show it; null where the segmenter
   * does not tell, and without normalised colours.
   */
  readonly underDwell: Uint8Array | null;
  /**
   * Why the colour of a zone pixel is not known (BLOCKED codes), what the segmenter itself could not read included; 0 is known.
   * Clipped pixels may have a class all the same: how bright they are at least, and what lies round them, can tell it.
   */
  readonly blocked: ByteMask;
  /** 1 where the explainable cross-check disagrees about residue; null where there was no cross-check. */
  readonly doubtful: ByteMask | null;
  /** Standard deviation of each share that colour error and the segmenter's own error rates leave, as share. */
  readonly shareSigma: Readonly<Record<SurfaceClass | 'residue', number>>;
}

/** The classes of the pixels whose colour is known: what appearance is measured on. */
export function codesOfKnownColour({ codes, blocked }: Pick<Segmentation, 'codes' | 'blocked'>): ByteMask {
  const out = byteMask(codes.width, codes.height);
  // A loop and local names: a closure for each of millions of pixels takes three times as long.
  const [told, barred, known] = [codes.values, blocked.values, out.values];
  for (let i = 0; i < told.length; i++) if (barred[i] === 0) known[i] = told[i];
  return out;
}

/** What a segmenter looks at. */
export type SegmentedView = Pick<SurfaceView, 'grid' | 'lab' | 'zone' | 'blocked' | 'normalisation'>;

/** Tells a view into classes. Implementations may run a model; the measuring core only takes the answer. */
export interface Segmenter {
  segment(view: SegmentedView): Promise<Outcome<Segmentation>>;
}
