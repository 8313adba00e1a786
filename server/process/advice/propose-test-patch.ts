import { type History, millimetres, type Settings, type TestPatch } from '../../domain/index.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { coarseRounds } from './coarse-rounds.ts';
import { dialledSettings } from './dial-steps.ts';
import { hasTriedNearDeepest, patchesNow } from './everything-tried.ts';
import { percent } from './explain-round.ts';
import { isNearDuplicate } from './lever-of.ts';
import { hasTriedSlowestFullWidth } from './open-choices.ts';
import { type Planning, type RoundProspect } from './round-prospect.ts';
import { fastestCoveringTravel } from './stroke-options.ts';
import { valueOfKnowing } from './value-of-knowing.ts';

/** Length of a patch along the travel: enough for an even walk and a photo. Common practice. */
const PATCH_LENGTH_MM = 100;
/**
 * Dialling to the patch and back again, and a photo with the card that is already there, minutes: twice the half minute of a
 * stop after a round, which comes anyway. Common practice.
 */
export const PATCH_SETUP_MINUTES = 1;
/** Area of a zone where nobody says how large it is, m2. */
const USUAL_AREA_M2 = 1;
/**
 * A patch is proposed where it saves this many times its own minutes. What it should save is the best of some twenty
 * expectations and takes the belief's word for what a photo will tell, so it looks better than it proves; its cost is certain.
 * Chosen by the closed-loop test with set-up counted: patches worth once or twice their cost lengthened the work, those
 * worth three times did not.
 */
const WORTH_FACTOR = 3;
/** A round that wastes this many times the minutes of a patch, chance times time, is tried on a patch. Chosen by us. */
const RISKS_MUCH_MORE = 10;
/** Most patches on one and the same surface: as many as are learned from. */
const MOST_PATCHES = 6;
/** On a zone less than this many times the patch the patch is the work itself. */
const LEAST_PATCHES = 5;

/** Below this chance to reach the target the question is no longer which round comes first, but whether any is worth it. */
const LITTLE_HOPE = 0.15;

/**
 * A small patch to try first, if knowing its outcome is expected to save more minutes on the whole zone than it costs:
 * the first round is then set for the surface that the patch showed, and a hopeless surface is not treated at all.
 */
export function proposeTestPatch(planning: Planning, prospects: readonly RoundProspect[]): TestPatch | null {
  const { history, curves } = planning;
  const [first] = prospects;
  if (curves.reachableShare < LITTLE_HOPE && !hasTriedNearDeepest(history)) {
    const deepest = deepestPatch(planning, first);
    return comesAnyway(history, first, deepest) ? null : deepest;
  }
  if (patchesNow(history).length >= MOST_PATCHES) return null;
  const areaM2 = history.areaM2 ?? USUAL_AREA_M2;
  const rounds = coarseRounds(planning);
  const value = valueOfKnowing(planning, rounds);
  const saved = (perSquareMetre: number, exposed: number): number =>
    areaM2 * (curves.reachableShare * Math.max(0, perSquareMetre) + exposed * first.effort);
  const most = saved(value.untried - value.certain, 1 - curves.reachableShare);
  if (most < WORTH_FACTOR * PATCH_SETUP_MINUTES) return null;
  let best: { prospect: RoundProspect; minutes: number; saves: number } | null = null;
  for (const prospect of patchesToWeigh(history, rounds)) {
    if (patchAreaM2(prospect.settings) * LEAST_PATCHES > areaM2) continue;
    if (isTriedAlready(history, prospect.settings)) continue;
    const minutes = patchMinutes(prospect.settings);
    if (comesAnyway(history, first, { settings: prospect.settings, minutes })) continue;
    const { minutes: knowing, exposedShare } = value.afterPatch(prospect);
    const saves = saved(value.untried - knowing, exposedShare);
    if (best === null || saves - minutes > best.saves - best.minutes) best = { prospect, minutes, saves };
  }
  if (best === null || best.saves < WORTH_FACTOR * best.minutes) return null;
  const { prospect, minutes, saves } = best;
  return {
    settings: prospect.settings,
    widthMm: prospect.settings.scanWidthMm,
    lengthMm: millimetres(PATCH_LENGTH_MM),
    minutes,
    savesMinutes: saves,
    why:
      `A patch of ${prospect.settings.scanWidthMm} x ${PATCH_LENGTH_MM} mm takes about ${inMinutes(minutes)} with set-up and photo. ` +
      `What it shows should save about ${inMinutes(saves)} on ${areaM2} m2, since now the chance to reach the target in one round is only ${percent(first.probabilityMeetsTarget)}.`,
  };
}

const patchAreaM2 = ({ scanWidthMm }: Settings): number => (scanWidthMm * PATCH_LENGTH_MM) / 1e6;

const patchMinutes = (settings: Settings): number =>
  patchAreaM2(settings) * minutesPerSquareMetreOf(settings) + PATCH_SETUP_MINUTES;

/** A patch again at about the same setting, on the surface as it is, would only show how evenly the hand goes. */
const isTriedAlready = (history: History, settings: Settings): boolean =>
  patchesNow(history).some((tried) => isNearDuplicate(tried.settings, settings));

/**
 * Whether a patch would only try what the next round does on the zone anyway, and that round risks too little to be tried
 * before: it would learn nothing that the round does not teach.
 */
function comesAnyway(
  { areaM2 = USUAL_AREA_M2 }: History,
  round: RoundProspect,
  patch: Pick<TestPatch, 'settings' | 'minutes'>,
): boolean {
  if (!isNearDuplicate(round.settings, patch.settings)) return false;
  return areaM2 * round.effort * (1 - round.probabilityMeetsTarget) < RISKS_MUCH_MORE * patch.minutes;
}

/** One pass each; at full width until the slowest stroke of full width has been tried, as for rounds. */
function patchesToWeigh(history: History, rounds: readonly RoundProspect[]): readonly RoundProspect[] {
  const least = hasTriedSlowestFullWidth(history) ? 0 : history.machine.scanWidthMm.max;
  return rounds.filter(({ settings }) => settings.passes === 1 && settings.scanWidthMm >= least);
}

/** The proof before the method is given up: a patch of the deepest stroke there is. */
function deepestPatch(
  { history: { machine, areaM2 = USUAL_AREA_M2 }, aim, curves }: Planning,
  first: RoundProspect,
): TestPatch {
  const deepest = {
    powerW: machine.powerW.max,
    scanWidthMm: machine.scanWidthMm.min,
    scanFrequencyHz: machine.scanFrequencyHz.min,
  };
  const travelSpeedMmPerS = fastestCoveringTravel(deepest, machine);
  const settings = dialledSettings({ ...deepest, travelSpeedMmPerS, passes: 1 }, machine);
  const minutes = patchMinutes(settings);
  return {
    settings,
    widthMm: settings.scanWidthMm,
    lengthMm: millimetres(PATCH_LENGTH_MM),
    minutes,
    savesMinutes: areaM2 * (1 - curves.reachableShare) * first.effort,
    why:
      `The chance that any setting of this machine brings ${percent(aim.target)} or less is only about ${percent(curves.reachableShare)}. ` +
      `A patch of ${settings.scanWidthMm} x ${PATCH_LENGTH_MM} mm with its deepest stroke takes about ${inMinutes(minutes)} and shows whether the method is worth going on with.`,
  };
}

function inMinutes(minutes: number): string {
  const whole = minutes.toFixed(0);
  return whole === '1' ? '1 minute' : `${whole} minutes`;
}
