import type { BeamShape } from '../dose.ts';

/** Distance from the middle of a stroke beyond which it lays nothing, in spot diameters. */
export const PROFILE_REACH: Readonly<Record<BeamShape, number>> = { gaussian: 1.1, even: 0.5 };

/**
 * Energy that a stroke lays on a point `offset` spot diameters beside its middle, in units of P / (d v). An even beam lays
 * it all within half a diameter; a Gaussian one sqrt(8 / pi) at its middle. The integral over the offset is 1 for both.
 * Source: the Gaussian integrated along the stroke.
 */
export const strokeProfile = (beam: BeamShape, offset: number): number =>
  beam === 'even' ? (Math.abs(offset) <= 0.5 ? 1 : 0) : Math.sqrt(8 / Math.PI) * Math.exp(-8 * offset ** 2);
