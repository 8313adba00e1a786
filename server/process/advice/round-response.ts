import { type ResidueReading, type Round } from '../../domain/index.ts';
import { measuredResidue, residueInterval } from '../belief/measured-residue.ts';
import { normalProbabilityBelow } from '../../domain/normal-distribution.ts';

/** What is held against the target: the worst square, as grades do, where the photo gave one. */
export const judgedReading = ({ after }: Round): ResidueReading => after.worstSquare ?? after;

/** What the latest photo says about the target. */
export type TargetReading = 'met' | 'perhaps met' | 'not met';

/**
 * Guard-banded: met when the whole 95 % interval lies within the target, perhaps met when the value does but the interval
 * reaches over. A scrape test that brings material off leaves it open, whatever the photo shows. Source: [JCGM106].
 */
export function readTarget(latest: Round, target: number): TargetReading {
  const judged = judgedReading(latest);
  if (judged.residueFraction > target) return 'not met';
  const isShown = residueInterval(judged).high <= target;
  return isShown && latest.scrapeTest !== 'material came off' ? 'met' : 'perhaps met';
}

/** Chance that the photo alone must give the target before other rounds may settle it. Chosen by us: four to one. */
export const PHOTO_SPEAKS = 0.8;

/** Whether the photo by itself makes it likely that the target is met, and nothing came off when it was scraped. */
export function speaksForTarget(latest: Round, target: number): boolean {
  const { share, deviation } = measuredResidue(judgedReading(latest));
  return (
    latest.scrapeTest !== 'material came off' && normalProbabilityBelow((target - share) / deviation) >= PHOTO_SPEAKS
  );
}

/** A round that left more than this part of what it found has stalled. Chosen by the closed-loop test. */
export const STALLED_PART = 0.7;

/** Whether a round took off too little to be repeated with the same stroke. */
export const hasStalled = (round: Round): boolean =>
  round.after.residueFraction > STALLED_PART * round.before.residueFraction;
