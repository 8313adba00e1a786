import {
  type Advice,
  fraction,
  type History,
  measuredShare,
  type Measured,
  type Outcome,
  success,
  type Suggestion,
} from '../../domain/index.ts';
import { sampleBelief } from '../belief/belief-sample.ts';
import { believeSurface } from '../belief/surface-belief.ts';
import { minutesPerSquareMetreOf } from '../kinematics/area-rate.ts';
import { removalPriorOf, type RemovalPrior } from '../removal/removal-prior.ts';
import { surfaceKindOf } from '../removal/surface-kind.ts';
import { checkHistory } from './check-history.ts';
import { decideVerdict } from './decide-verdict.ts';
import { explainRound } from './explain-round.ts';
import { explainVerdict } from './explain-verdict.ts';
import { leverOf } from './lever-of.ts';
import { listSuggestions } from './list-suggestions.ts';
import { roundCautions } from './round-cautions.ts';
import { planRound, type Planning, type RoundProspect } from './round-prospect.ts';

export interface AdviceOptions {
  /** Parts of the prior that are known better than common practice, for example from the shop's earlier zones. */
  readonly prior?: Partial<RemovalPrior>;
}

/** Surfaces that the choice is weighed on. Test: twice as many move the first suggestion's minutes by less than a third. */
const SAMPLE_SIZE = 128;

/**
 * What to do next on this zone: learns from all rounds what the surface is like, carries the elements that survived them,
 * and weighs further rounds by expected minutes to a shown target. Same history, same advice; it supports whoever
 * inspects and certifies nothing.
 */
export function adviseNextRound(history: History, options: AdviceOptions = {}): Outcome<Advice> {
  const checked = checkHistory(history);
  if (!checked.ok) return checked;
  const known = checked.value;
  const prior = removalPriorOf(surfaceKindOf(known.surface), options.prior);
  const planning = planRound(known, sampleBelief(believeSurface(known, prior), SAMPLE_SIZE));
  const { reachableShare } = planning.curves;
  const verdict = decideVerdict(known, reachableShare);
  const isOver = verdict === 'meets target' || verdict === 'change method';
  return success({
    verdict,
    suggestions: isOver ? [] : suggestionsOf(planning),
    because: explainVerdict(known, verdict, reachableShare),
  });
}

function suggestionsOf(planning: Planning): Suggestion[] {
  const prospects = listSuggestions(planning);
  const base = planning.history.rounds.at(-1)?.settings ?? prospects[0].settings;
  return prospects.map((prospect) => suggestionOf(planning, prospect, leverOf(base, prospect.settings)));
}

function suggestionOf(planning: Planning, prospect: RoundProspect, lever: Suggestion['lever']): Suggestion {
  const { settings } = prospect;
  const predicted = predictedResidue(prospect.residues);
  const probability = fraction(prospect.probabilityMeetsTarget);
  return {
    lever,
    settings,
    predicted,
    probabilityMeetsTarget: probability,
    minutesPerSquareMetre: minutesPerSquareMetreOf(settings),
    why: explainRound(planning, lever, settings, { predicted, probability }),
    cautions: roundCautions(planning.history, settings),
  };
}

/** Median and central 95 % of the residues over the sample. */
export function predictedResidue(residues: Float64Array): Measured {
  const sorted = residues.slice().sort();
  const at = (share: number): number => {
    const place = share * (sorted.length - 1);
    const below = Math.floor(place);
    const above = Math.min(sorted.length - 1, below + 1);
    return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
  };
  return measuredShare(at(0.5), at(0.025), at(0.975));
}
