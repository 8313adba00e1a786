import { type Settings } from '../../domain/index.ts';
import { chooseNextRound, leastEffort, weighOpen } from './choose-next-round.ts';
import { expectedEffort } from './expected-effort.ts';
import { hasTriedSlowestFullWidth } from './open-choices.ts';
import { isNearDuplicate } from './lever-of.ts';
import { type Planning, prospectOf, type RoundProspect } from './round-prospect.ts';
import { settingsByLever, SINGLE_LEVERS, type SingleLever } from './single-levers.ts';

const MOST_SUGGESTIONS = 6;
/** The surest round is the cheapest of those within this part of the best chance. */
const NEARLY_SUREST = 0.8;

/**
 * Rounds to offer, best first: the one to do next; then the best of each single lever, seen from the latest settings (or
 * from the first suggestion where nothing has been done yet); then the cheapest round that is about as sure as any.
 */
export function listSuggestions(planning: Planning): RoundProspect[] {
  const open = weighOpen(planning);
  const first = chooseNextRound(planning, open);
  const base = planning.history.rounds.at(-1)?.settings ?? first.settings;
  const alone = SINGLE_LEVERS.flatMap((lever) => bestOfLever(planning, base, lever));
  const others = [...alone, surest(planning, open)].sort((a, b) => rank(planning, a) - rank(planning, b));
  const list = [first];
  for (const other of others) {
    if (!list.some((listed) => isNearDuplicate(listed.settings, other.settings))) list.push(other);
  }
  return list.slice(0, MOST_SUGGESTIONS);
}

function bestOfLever(planning: Planning, base: Settings, lever: SingleLever): RoundProspect[] {
  const choices = settingsByLever(base, planning.history.machine, lever);
  if (choices.length === 0) return [];
  return [
    leastEffort(
      planning,
      choices.map((settings) => prospectOf(planning, settings)),
    ),
  ];
}

function surest(planning: Planning, prospects: readonly RoundProspect[]): RoundProspect {
  const most = Math.max(...prospects.map(({ probabilityMeetsTarget }) => probabilityMeetsTarget));
  return leastEffort(
    planning,
    prospects.filter((p) => p.probabilityMeetsTarget >= NEARLY_SUREST * most),
  );
}

/** Expected effort; a narrower line ranks behind every wider one until full width at the lowest frequency has been tried. */
function rank(planning: Planning, prospect: RoundProspect): number {
  const { history } = planning;
  const { settings } = prospect;
  const widest = Math.min(history.machine.scanWidthMm.max, history.rounds.at(-1)?.settings.scanWidthMm ?? Infinity);
  const isEarlyCut = settings.scanWidthMm < widest && !hasTriedSlowestFullWidth(history);
  return expectedEffort(planning, prospect) + (isEarlyCut ? EARLY_CUT_MINUTES : 0);
}

/** Larger than any effort, so that it only sorts. */
const EARLY_CUT_MINUTES = 1e6;
