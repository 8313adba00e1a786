import type { PeriodicWave } from './periodic-wave.ts';
import { angleBetween } from './zigzag.ts';

interface WeighedPitch {
  readonly wave: Pick<PeriodicWave, 'pitchMm' | 'wave'>;
  /** Log odds that it is a streak's. */
  readonly evidence: number;
}

/**
 * Waves that run alike, in radians, and whose pitches stand to each other so, but for this share, are of one set of stripes: narrow
 * ones have overtones, and strokes to and fro a wave of twice their spacing.
 */
const OVERTONES = { turn: 0.1, times: [1 / 3, 1 / 2, 2, 3], share: 0.06 } as const;
/**
 * Scatter of the logarithm of the real over the intended pitch: a hand keeps its speed to a fifth, and now and then is further off
 * (common practice). Rendered hands are never further off than a fifth, so scenes say nothing of those that are.
 */
const HAND = 0.35;

/** Log odds, up to a constant, that a hand makes this spacing of strokes of the intended one. */
export const oddsOfHand = (pitchMm: number, intendedMm: number): number =>
  -((Math.log(pitchMm / intendedMm) / HAND) ** 2) / 2;

/**
 * Of a wave and its overtones the one that is likeliest where the settings lead to an intended pitch: log odds of both add. A hand
 * at twice its speed takes 2 off them, so that a pitch that is clear of its overtones stands whatever was intended.
 */
export function likeliestOvertone<T extends WeighedPitch>(first: T, all: readonly T[], intendedMm: number | null): T {
  if (intendedMm === null) return first;
  const odds = ({ wave, evidence }: T): number => evidence + oddsOfHand(wave.pitchMm, intendedMm);
  return all.reduce((best, next) => (isOvertone(next, first) && odds(next) > odds(best) ? next : best), first);
}

const isOvertone = (p: WeighedPitch, q: WeighedPitch): boolean =>
  angleBetween(p.wave.wave, q.wave.wave) < OVERTONES.turn &&
  OVERTONES.times.some((times) => Math.abs(p.wave.pitchMm / (times * q.wave.pitchMm) - 1) < OVERTONES.share);
