import { type EarlierZone, type Machine, type Round } from '../../domain/index.ts';
import { type RemovalPrior } from '../../domain/removal/removal-prior.ts';
import { remainingEffort } from '../advice/effort-curves.ts';
import { planRound } from '../advice/round-prospect.ts';
import { sampleBelief } from '../belief/belief-sample.ts';
import { believeSurface, HAND_SPEED_DEVIATION } from '../belief/surface-belief.ts';
import { FINDING_FACTOR } from './finding-factor.ts';
import { logMoments, type LogMinutes } from './log-minutes.ts';
import { roundMinutes } from './round-minutes.ts';

/** Enough to tell what an unfinished zone still needs within the spread that is left anyway. Chosen for time. */
const EFFORT = { points: 400, stages: 2 } as const;
const SAMPLE_SIZE = 128;
/** An unfinished zone that is likelier out of reach than not says nothing about minutes. */
const LEAST_REACHABLE = 0.5;

/** What a zone took, or with what it still needs would take. */
export interface ZoneMinutes extends LogMinutes {
  readonly isFinished: boolean;
}

/**
 * Beam minutes for a square metre that one treated zone took until its photo showed the asked residue, waste of finding
 * the setting included; where its rounds ended before, with what it still needs by the removal model. Null for a zone that
 * hardly gets there at all.
 */
export function zoneMinutes(
  { rounds }: Pick<EarlierZone, 'rounds'>,
  {
    machine,
    target,
    prior,
  }: { machine: Machine; target: { residueFractionMax: Round['after']['residueFraction'] }; prior: RemovalPrior },
): ZoneMinutes | null {
  let spent = 0;
  for (const round of rounds) {
    spent += roundMinutes(round, machine);
    if (round.after.residueFraction <= target.residueFractionMax) {
      return { mean: Math.log(spent), deviation: HAND_SPEED_DEVIATION, isFinished: true };
    }
  }
  const sample = sampleBelief(believeSurface({ machine, rounds: [...rounds] }, prior, EFFORT), SAMPLE_SIZE);
  const { curves } = planRound({ machine, target, rounds: [...rounds] }, sample);
  if (curves.reachableShare < LEAST_REACHABLE) return null;
  const totals = Array.from(sample.residueNow.entries())
    .filter(([surface]) => curves.reachable[surface] === 1)
    .map(([surface, residue]) => spent + FINDING_FACTOR * remainingEffort(curves, surface, residue));
  const { mean, deviation } = logMoments(totals);
  return { mean, deviation: Math.hypot(deviation, HAND_SPEED_DEVIATION), isFinished: false };
}
