import { type Advice, fraction, type History, type Outcome, success, type Suggestion } from '../../domain/index.ts';
import { sampleBelief } from '../belief/belief-sample.ts';
import { pooledPrior, zonesOfKind } from '../belief/pooled-prior.ts';
import { believeSurface, chanceWithin } from '../belief/surface-belief.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { removalPriorOf, type RemovalPrior } from '../../domain/removal/removal-prior.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';
import { zoneTarget } from './aim.ts';
import { checkHistory } from './check-history.ts';
import { contradictingRounds } from './contradicting-rounds.ts';
import { decideVerdict } from './decide-verdict.ts';
import { expectedEffort } from './expected-effort.ts';
import { explainDoubt } from './explain-doubt.ts';
import { explainRound } from './explain-round.ts';
import { explainVerdict } from './explain-verdict.ts';
import { leverOf } from './lever-of.ts';
import { listSuggestions } from './list-suggestions.ts';
import { predictedResidue } from './predicted-residue.ts';
import { proposeTestPatch } from './propose-test-patch.ts';
import { roundCautions } from './round-cautions.ts';
import { planRound, type Planning, type RoundProspect } from './round-prospect.ts';

export interface AdviceOptions {
  /** Parts of the prior that are known better than common practice, for example from the shop's earlier zones. */
  readonly prior?: Partial<RemovalPrior>;
}

/** Surfaces that the choice is weighed on; two and a half times as many left the closed loop as it was. Chosen for time. */
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
  const kind = surfaceKindOf(known.surface);
  const zones = zonesOfKind(known.earlierZones ?? [], kind);
  const prior = pooledPrior(removalPriorOf(kind, options.prior), known.machine, zones);
  const belief = believeSurface(known, prior);
  const planning = planRound(known, sampleBelief(belief, SAMPLE_SIZE));
  const { reachableShare } = planning.curves;
  const withinShare = chanceWithin(belief, zoneTarget(known));
  const verdict = decideVerdict(known, { reachableShare, withinShare });
  const isOver = verdict === 'meets target' || verdict === 'change method';
  const prospects = isOver ? [] : listSuggestions(planning);
  const base = known.rounds.at(-1)?.settings ?? prospects.at(0)?.settings;
  const testPatch = verdict === 'another round' ? proposeTestPatch(planning, prospects) : null;
  return success({
    verdict,
    suggestions: prospects.map((prospect) =>
      suggestionOf(planning, prospect, leverOf(base ?? prospect.settings, prospect.settings)),
    ),
    because: [
      explainVerdict(known, verdict, { reachableShare, withinShare, zonesLearned: zones.length }),
      contradictingRounds(known) ?? [],
    ]
      .flat()
      .join(' '),
    ...(testPatch === null ? {} : { testPatch }),
  });
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
    why: explainRound(planning, lever, settings, {
      predicted,
      probability,
      totalMinutes: expectedEffort(planning, prospect),
    }),
    changesMind: explainDoubt(planning, settings),
    cautions: roundCautions(planning.history, settings),
  };
}
