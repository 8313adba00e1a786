import { millimetres, type TestPatch } from '../../domain/index.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { effortKnowing, expectedEffort } from './expected-effort.ts';
import { patchesNow } from './everything-tried.ts';
import { percent } from './explain-round.ts';
import { type Planning, type RoundProspect } from './round-prospect.ts';

/** Length of a patch along the travel: enough for an even walk and a photo. Common practice. */
const PATCH_LENGTH_MM = 100;
/** Setting up for a patch, photographing it and reading it, minutes. Common practice. */
const PATCH_OVERHEAD_MINUTES = 3;
/** Area of a zone where nobody says how large it is, m2. */
const USUAL_AREA_M2 = 1;
/** A patch is proposed where it saves this many times its own minutes, since the estimate is rough. Chosen by us. */
const WORTH_FACTOR = 2;
/** Patches on one and the same surface; the next one teaches little. Chosen by us. */
const MOST_PATCHES = 3;
/** On a zone less than this many times the patch the patch is the work itself. */
const LEAST_PATCHES = 5;

/**
 * A small patch to try first, if knowing its outcome is expected to save more minutes on the whole zone than it costs:
 * the first round is then set for the surface that the patch showed, and a hopeless surface is not treated at all.
 */
export function proposeTestPatch(planning: Planning, prospects: readonly RoundProspect[]): TestPatch | null {
  const { history, curves } = planning;
  if (patchesNow(history).length >= MOST_PATCHES) return null;
  const [first] = prospects;
  const areaM2 = history.areaM2 ?? USUAL_AREA_M2;
  const untried = expectedEffort(planning, first);
  let best: { prospect: RoundProspect; minutes: number; saves: number } | null = null;
  for (const prospect of prospects) {
    const patchM2 = (prospect.settings.scanWidthMm * PATCH_LENGTH_MM) / 1e6;
    if (patchM2 * LEAST_PATCHES > areaM2) continue;
    const minutes = patchM2 * minutesPerSquareMetreOf(prospect.settings) + PATCH_OVERHEAD_MINUTES;
    const knowing = Math.max(0, untried - effortKnowing(planning, prospect));
    const saves = areaM2 * (curves.reachableShare * knowing + (1 - curves.reachableShare) * first.effort);
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
      `A patch of ${prospect.settings.scanWidthMm} x ${PATCH_LENGTH_MM} mm takes about ${minutes.toFixed(0)} minutes with its photo. ` +
      `What it shows should save about ${saves.toFixed(0)} minutes on ${areaM2} m2, since now the chance to reach the target in one round is only ${percent(first.probabilityMeetsTarget)}.`,
  };
}
