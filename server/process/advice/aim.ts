import { type History } from '../../domain/index.ts';
import { normalQuantile } from '../../domain/normal-distribution.ts';
import { defaultResidueDeviation, residueAfter } from '../belief/measured-residue.ts';
import { PHOTO_SPEAKS } from './round-response.ts';

/** What a round has to reach, and how well the photo can show it. */
export interface Aim {
  /** Largest residue share of the whole zone that will do; kept off 0 and 1, where no photo decides anything. */
  readonly target: number;
  /** Deviation of a photo's residue near the target. */
  readonly photoDeviation: number;
  /** Residue at which a photo, weighed with the rounds before, just shows that the target is met. */
  readonly shownShare: number;
}

const TARGET_RANGE = { least: 0.002, most: 0.95 };
/**
 * How far below the target a photo has to read to settle it together with the rounds before: as far as it must speak for
 * the target by itself, which is less than the 1.96 of the photo alone. The plan aims no deeper than the verdict asks.
 */
const AIMED_DEVIATIONS = normalQuantile(PHOTO_SPEAKS);
/** Below this part of the target it is not worth aiming, however coarse the photo. */
const LEAST_AIM = 0.4;
/** A coarse photo of a dirty surface says little about the next photo, of a cleaner one. */
const MOST_USUAL_DEVIATIONS = 3;

/**
 * Share of the whole zone at which its worst square comes within the target: what is left is taken to fade alike everywhere,
 * so that the square keeps its part of it.
 */
export function zoneTarget({ rounds, target: { residueFractionMax } }: Pick<History, 'rounds' | 'target'>): number {
  const after = rounds.at(-1)?.after;
  if (after?.worstSquare === undefined || after.worstSquare.residueFraction <= after.residueFraction) {
    return residueFractionMax;
  }
  return (residueFractionMax * after.residueFraction) / after.worstSquare.residueFraction;
}

export function aimOf(history: History): Aim {
  const target = Math.min(TARGET_RANGE.most, Math.max(TARGET_RANGE.least, zoneTarget(history)));
  const usual = defaultResidueDeviation(target);
  const latest = history.rounds.at(-1);
  const seen = latest === undefined ? usual : residueAfter(latest).deviation;
  const photoDeviation = Math.min(seen, MOST_USUAL_DEVIATIONS * usual);
  return {
    target,
    photoDeviation,
    shownShare: Math.max(LEAST_AIM * target, target - AIMED_DEVIATIONS * photoDeviation),
  };
}
