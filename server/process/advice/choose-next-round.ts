import { type History, type Settings } from '../../domain/index.ts';
import { dialledSettings } from './dial-steps.ts';
import { everythingTried } from './everything-tried.ts';
import { openChoices } from './open-choices.ts';
import { type Planning, prospectOf, type RoundProspect } from './round-prospect.ts';
import { readTarget } from './round-response.ts';
import { expectedEffort, hopefulEffort } from './expected-effort.ts';
import { refineRound } from './refine-round.ts';
import { strokeDepth } from './stroke-depth.ts';
import { CHOICE_STEPS, strokeOptions, travelAndPasses } from './stroke-options.ts';

/** Energies tried with each stroke, J/cm2, in equal ratios. */
const ENERGY_LADDER = { leastJPerCm2: 3, ratio: 1.3, levels: 30 } as const;

/** Every combination of stroke and energy that is worth weighing on this machine, as it can be dialled, each once. */
export function dialledChoices({ machine }: Pick<History, 'machine'>): Settings[] {
  const choices = new Map<string, Settings>();
  for (const option of strokeOptions(machine, CHOICE_STEPS)) {
    for (let level = 0; level < ENERGY_LADDER.levels; level++) {
      const energy = ENERGY_LADDER.leastJPerCm2 * ENERGY_LADDER.ratio ** level;
      const settings = dialledSettings({ ...option, ...travelAndPasses(option, machine, energy) }, machine);
      choices.set(Object.values(settings).join(' '), settings);
    }
  }
  return [...choices.values()];
}

/**
 * Least chance that a round finishes the job, if it can be finished, for the first, second and later rounds. It is low
 * at first, because what a first round takes off is not lost and shows how much more is needed.
 */
const LEAST_CHANCE = [0.02, 0.05, 0.1] as const;
/** Where the target is perhaps met already, a round is worth the walk only if it is likely to settle it. */
const SETTLING_CHANCE = 0.5;
/** Where no round has that chance, the likeliest few are compared: those within this part of the likeliest. */
const NEARLY_LIKELIEST = 0.9;
/** Rounds that pass the first sieve and are weighed fully: those that a hopeful estimate puts first. Chosen for time. */
const SHORTLIST = 24;

/** The next round: of those that are open, and likely enough to finish, the one with the least expected effort. */
export function chooseNextRound(planning: Planning, open: readonly RoundProspect[]): RoundProspect {
  if (planning.curves.reachableShare === 0) return deeperAtLeast(planning.history, open);
  const likeliest = Math.max(...open.map(({ chanceIfReachable }) => chanceIfReachable));
  const least = Math.min(leastChance(planning.history), NEARLY_LIKELIEST * likeliest);
  const isLikely = ({ chanceIfReachable }: RoundProspect): boolean => chanceIfReachable >= least;
  const coarse = leastEffort(planning, open.filter(isLikely));
  return refineRound(planning, coarse, (choices) =>
    weighOpen(planning, [coarse.settings, ...choices]).filter(isLikely),
  );
}

/** Where nothing is believed to reach the target: the least that is deeper than all that has been tried, to be sure. */
function deeperAtLeast(history: History, open: readonly RoundProspect[]): RoundProspect {
  const tried = Math.max(0, ...everythingTried(history).map(({ settings }) => strokeDepth(settings)));
  const deeper = open.filter(({ settings }) => strokeDepth(settings) > tried);
  const deepest = Math.max(...open.map(({ settings }) => strokeDepth(settings)));
  const some = deeper.length > 0 ? deeper : open.filter(({ settings }) => strokeDepth(settings) >= deepest);
  return lowestOf(some, ({ effort }) => effort, 1)[0];
}

function leastChance({ rounds, target }: History): number {
  const latest = rounds.at(-1);
  if (latest !== undefined && readTarget(latest, target.residueFractionMax) !== 'not met') return SETTLING_CHANCE;
  return LEAST_CHANCE[Math.min(rounds.length, LEAST_CHANCE.length - 1)];
}

/** @throws RangeError when there is nothing to choose from */
export function leastEffort(planning: Planning, prospects: readonly RoundProspect[]): RoundProspect {
  if (prospects.length === 0) throw new RangeError('Expected at least one round to choose from');
  const sieved = lowestOf(prospects, (prospect) => hopefulEffort(planning, prospect), SHORTLIST);
  return lowestOf(sieved, (prospect) => expectedEffort(planning, prospect), 1)[0];
}

function lowestOf(
  prospects: readonly RoundProspect[],
  value: (prospect: RoundProspect) => number,
  count: number,
): RoundProspect[] {
  const valued = prospects.map((prospect) => ({ prospect, value: value(prospect) }));
  valued.sort((a, b) => a.value - b.value);
  return valued.slice(0, count).map(({ prospect }) => prospect);
}

/** What to expect of every round that is open now. */
export function weighOpen(
  planning: Planning,
  choices: readonly Settings[] = dialledChoices(planning.history),
): RoundProspect[] {
  const open = openChoices(planning.history, choices, {
    reachableShare: planning.curves.reachableShare,
    metShare: planning.metShare,
  });
  return open.map((settings) => prospectOf(planning, settings));
}
