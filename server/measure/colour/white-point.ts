/** XYZ of a white, Y = 1. */
export type WhitePoint = readonly [X: number, Y: 1, Z: number];

export const ILLUMINANTS = ['A', 'C', 'D50', 'D55', 'D65', 'D75', 'F2', 'F11'] as const;
export type Illuminant = (typeof ILLUMINANTS)[number];
export type ObserverDegrees = 2 | 10;

/**
 * Whites of the CIE standard illuminants as tabulated by ASTM E308, seen by the 2 and the 10 degree observer.
 * Source: [E308]; the 2 degree column and the 10 degree one of A, C and D agree with public code, F2 and F11 at 10
 * degrees are from memory.
 */
const WHITES: Readonly<Record<Illuminant, Readonly<Record<ObserverDegrees, WhitePoint>>>> = {
  A: { 2: [1.0985, 1, 0.35585], 10: [1.11144, 1, 0.352] },
  C: { 2: [0.98074, 1, 1.18232], 10: [0.97285, 1, 1.16145] },
  D50: { 2: [0.96422, 1, 0.82521], 10: [0.9672, 1, 0.81427] },
  D55: { 2: [0.95682, 1, 0.92149], 10: [0.95799, 1, 0.90926] },
  D65: { 2: [0.95047, 1, 1.08883], 10: [0.94811, 1, 1.07304] },
  D75: { 2: [0.94972, 1, 1.22638], 10: [0.94416, 1, 1.20641] },
  F2: { 2: [0.99186, 1, 0.67393], 10: [1.03279, 1, 0.69027] },
  F11: { 2: [1.00962, 1, 0.6435], 10: [1.03863, 1, 0.65607] },
};

export const whitePoint = (illuminant: Illuminant, observer: ObserverDegrees): WhitePoint =>
  WHITES[illuminant][observer];

/** The white of sRGB. */
export const WHITE_D65 = whitePoint('D65', 2);
/** The project's working white: all Lab values are D50 / 2 degrees unless a name says otherwise. Source: [ISO13655]. */
export const WHITE_D50 = whitePoint('D50', 2);
