import { type Round } from '../../domain/index.ts';
import { residueInterval } from '../belief/measured-residue.ts';

/** What the latest photo says about the target. */
export type TargetReading = 'met' | 'perhaps met' | 'not met';

/**
 * Guard-banded: met when the whole 95 % interval lies within the target, perhaps met when the value does but the interval
 * reaches over. A scrape test that brings material off leaves it open, whatever the photo shows. Source: [JCGM106].
 */
export function readTarget(latest: Round, target: number): TargetReading {
  if (latest.after.residueFraction > target) return 'not met';
  const isShown = residueInterval(latest).high <= target;
  return isShown && latest.scrapeTest !== 'material came off' ? 'met' : 'perhaps met';
}

/** A round that left more than this part of what it found has stalled. Chosen by the closed-loop test. */
const STALLED_PART = 0.7;

/** Whether a round took off too little to be repeated with the same stroke. */
export const hasStalled = (round: Round): boolean =>
  round.after.residueFraction > STALLED_PART * round.before.residueFraction;
