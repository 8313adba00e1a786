import {
  failure,
  historySchema,
  millimetres,
  type Outcome,
  success,
  type Settings,
  type TrialPatch,
  type TrialPlan,
  type TrialRequest,
} from '../../domain/index.ts';
import { predictedResidue } from '../advice/predicted-residue.ts';
import { checkHistory } from '../advice/check-history.ts';
import { dialledChoices } from '../advice/choose-next-round.ts';
import { roundCautions } from '../advice/round-cautions.ts';
import { residueAfterDose, sampleBelief, type BeliefSample } from '../belief/belief-sample.ts';
import { pooledPrior, zonesOfKind } from '../belief/pooled-prior.ts';
import { believePatches } from '../belief/surface-belief.ts';
import { arealEnergy } from '../../domain/energy/areal-energy.ts';
import { strokeFluence } from '../../domain/energy/stroke-fluence.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { removalPriorOf } from '../../domain/removal/removal-prior.ts';
import { roundDose } from '../../domain/removal/round-dose.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';
import { chooseInformative } from './choose-informative.ts';
import { layOutPatches, type PatchPlace, USUAL_MARGIN_MM } from './lay-out-patches.ts';

const USUAL_PATCHES = 8;
const SAMPLE_SIZE = 160;
/** Nobody spends longer on a patch of a trial than this: such settings would not be adopted anyway. Common practice. */
const MOST_MINUTES_PER_M2 = 60;
/** Most settings among which the telling ones are looked for; every n-th is taken where there are more. */
const MOST_TRYABLES = 150;
/** The card lies flush above the coupon, this far from its edge. Width and height of the printed card, mm. */
const CARD = { heightMm: 101.6, gapMm: 12 } as const;

/**
 * A coupon of patches whose outcomes together tell most about the surface: where they lie in millimetres, how each is
 * set, and in which order they are made. At the patch's width a frequency and a speed stand for the same stroke and the
 * same energy at full width: width times frequency and width times speed are what count.
 */
export function planTrial(request: TrialRequest): Outcome<TrialPlan> {
  const checked = checkHistory(
    historySchema.parse({ machine: request.machine, target: request.target, rounds: request.rounds ?? [] }),
  );
  if (!checked.ok) return checked;
  const places = layOutPatches(request, request.patches ?? USUAL_PATCHES);
  if (!places.ok) return places;
  const sample = sampleOf(request);
  const tryables = settingsToTry(request, places.value[0], sample);
  if (tryables.length < places.value.length) {
    return failure({
      code: 'trial-without-choice',
      settings: tryables.length,
      patches: places.value.length,
    });
  }
  const picked = chooseInformative(tryables, places.value.length).map((index) => tryables[index]);
  picked.sort(
    (a, b) =>
      strokeFluence(a.settings, request.machine) - strokeFluence(b.settings, request.machine) ||
      arealEnergy(a.settings) - arealEnergy(b.settings),
  );
  const order = runOrder(picked.length);
  const patches = places.value.map((place, index) => patchOf(request, place, picked[index], order[index]));
  return success(planOf(request, patches));
}

function sampleOf({ machine, surface, rounds = [], earlierZones = [] }: TrialRequest): BeliefSample {
  const kind = surfaceKindOf(surface);
  const prior = pooledPrior(removalPriorOf(kind), machine, zonesOfKind(earlierZones, kind));
  return sampleBelief(believePatches(machine, rounds, prior), SAMPLE_SIZE);
}

interface TriedSetting {
  readonly settings: Settings;
  readonly residues: Float64Array;
}

function settingsToTry({ machine }: TrialRequest, place: PatchPlace, sample: BeliefSample): TriedSetting[] {
  const width = { min: millimetres(place.widthMm), max: millimetres(place.widthMm) };
  const narrowed = { ...machine, scanWidthMm: width };
  const all = dialledChoices({ machine: narrowed }).filter(
    (settings) => minutesPerSquareMetreOf(settings) <= MOST_MINUTES_PER_M2,
  );
  const step = Math.max(1, Math.ceil(all.length / MOST_TRYABLES));
  return all
    .filter((_, index) => index % step === 0)
    .map((settings) => {
      const dose = roundDose(settings, machine);
      const residues = Float64Array.from({ length: SAMPLE_SIZE }, (_, surface) =>
        residueAfterDose(sample, surface, dose),
      );
      return { settings, residues };
    });
}

function patchOf({ machine }: TrialRequest, place: PatchPlace, tried: TriedSetting, order: number): TrialPatch {
  const { settings, residues } = tried;
  return {
    name: place.name,
    leftMm: place.leftMm,
    topMm: place.topMm,
    widthMm: millimetres(place.widthMm),
    heightMm: millimetres(place.heightMm),
    settings,
    runOrder: order,
    strokeFluenceJPerCm2: strokeFluence(settings, machine),
    arealEnergyJPerCm2: arealEnergy(settings),
    predicted: predictedResidue(residues),
  };
}

/**
 * Patches stand on the coupon from gentle to strong; every second one is made first and the others after, so that the
 * warmth of one patch is gone from its neighbour and a drift during the trial does not look like an effect of the setting.
 * Common practice.
 *
 * @returns for each patch its place in the order, from 1
 */
function runOrder(count: number): number[] {
  const firstHalf = Math.ceil(count / 2);
  return Array.from({ length: count }, (_, index) => (index % 2 === 0 ? index / 2 + 1 : firstHalf + (index + 1) / 2));
}

function planOf(request: TrialRequest, patches: TrialPatch[]): TrialPlan {
  const { machine, target, coupon, surface, thicknessMm } = request;
  const strongest = patches.reduce((a, b) => (b.arealEnergyJPerCm2 > a.arealEnergyJPerCm2 ? b : a));
  const lowest = Math.min(...patches.map(({ strokeFluenceJPerCm2 }) => strokeFluenceJPerCm2));
  const highest = Math.max(...patches.map(({ strokeFluenceJPerCm2 }) => strokeFluenceJPerCm2));
  const context = {
    machine,
    target,
    rounds: [],
    ...(surface === undefined ? {} : { surface }),
    ...(thicknessMm === undefined ? {} : { thicknessMm }),
  };
  return {
    schema: 'bareplate/trial-plan@1',
    name: request.name ?? 'Trial',
    machine,
    ...(surface === undefined ? {} : { surface }),
    ...(thicknessMm === undefined ? {} : { thicknessMm }),
    target,
    coupon: { ...coupon, marginMm: coupon.marginMm ?? millimetres(USUAL_MARGIN_MM) },
    couponAtMm: [0, CARD.heightMm + CARD.gapMm],
    patches,
    because: `These ${patches.length} patches, from ${lowest.toFixed(1)} to ${highest.toFixed(0)} J/cm2 a stroke, are the ones whose outcomes are least certain now and tell most about the others.`,
    cautions: roundCautions(context, strongest.settings),
  };
}
