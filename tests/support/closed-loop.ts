import {
  historySchema,
  settingsSchema,
  type AdviceVerdict,
  type History,
  type Machine,
  type Measured,
  type Settings,
} from '../../server/domain/index.ts';
import { adviseNextRound } from '../../server/process/advice/advise-next-round.ts';
import { PATCH_SETUP_MINUTES } from '../../server/process/advice/propose-test-patch.ts';
import { minutesPerSquareMetreOf } from '../../server/domain/kinematics/area-rate.ts';
import { seededNormal, seededRandom } from './seeded-random.ts';
import { type SimulatedProcess, type SimulatedSurface } from './simulated-process.ts';

export interface LoopTerms {
  readonly machine: Machine;
  readonly target: number;
  readonly seed: number;
  /** What the operator writes about the surface; none when left out. */
  readonly surface?: string;
  /** Deviation of a photo's residue; its interval is given as 2 deviations either way unless `isIntervalGiven` is false. */
  readonly photoDeviation: number;
  readonly isIntervalGiven?: boolean;
  readonly mostRounds: number;
  /** Size of the zone, which says what a test patch costs of it; the advice takes its usual size when left out. */
  readonly areaM2?: number;
  /** Somebody who treats the zone at once, whatever patch is proposed. */
  readonly isWithoutPatches?: boolean;
}

/** What was foretold of a round, what the surface then truly was, and what the photo showed. */
export interface Forecast {
  readonly settings: Settings;
  readonly predicted: Measured;
  readonly trueResidue: number;
  readonly seenResidue: number;
}

export interface LoopEnd {
  readonly verdict: AdviceVerdict;
  readonly rounds: number;
  readonly patches: number;
  /** For each square metre of the zone: beam time of rounds and test patches, and the patches' set-up with their photos. */
  readonly minutes: number;
  /** The beam time alone. */
  readonly beamMinutes: number;
  readonly trueResidue: number;
  readonly forecasts: readonly Forecast[];
}

/** The work as it really goes: a hand that errs evenly by up to 20 %, and photos with noise. */
interface Workplace {
  readonly treat: (settings: Settings) => number;
  readonly photograph: () => number;
  /** Treats a small part of the surface and photographs it; the rest stays as it is. */
  readonly tryPatch: (settings: Settings) => number;
  readonly trueResidue: () => number;
}

function openWorkplace(process: SimulatedProcess, terms: LoopTerms): Workplace {
  const random = seededRandom(104_729 * terms.seed + 17);
  let surface = process.start;
  const treated = (settings: Settings): SimulatedSurface => process.treat(surface, settings, 0.8 + 0.4 * random());
  const photo = ({ residue }: SimulatedSurface): number => share(residue + terms.photoDeviation * seededNormal(random));
  return {
    treat: (settings) => {
      surface = treated(settings);
      return minutesPerSquareMetreOf(settings);
    },
    photograph: () => photo(surface),
    tryPatch: (settings) => photo(treated(settings)),
    trueResidue: () => surface.residue,
  };
}

/**
 * Advise, treat, photograph, advise again, from an empty history with only the machine known. A test patch that is
 * proposed is made first, and its share of the beam time counts, and so does its set-up. Stops after rounds are not counted.
 */
export function runClosedLoop(process: SimulatedProcess, terms: LoopTerms): LoopEnd {
  const workplace = openWorkplace(process, terms);
  const forecasts: Forecast[] = [];
  let history = emptyHistory(terms);
  let [beamMinutes, setupMinutes, seen] = [0, 0, process.start.residue];
  for (;;) {
    const advice = adviseNextRound(history);
    if (!advice.ok) throw new Error(`Advice refused its own history: ${JSON.stringify(advice.fault)}`);
    const { verdict, suggestions, testPatch } = advice.value;
    const isOver = verdict === 'meets target' || verdict === 'change method';
    if (isOver || history.rounds.length >= terms.mostRounds) {
      return {
        verdict,
        rounds: history.rounds.length,
        patches: history.testPatches?.length ?? 0,
        minutes: beamMinutes + setupMinutes,
        beamMinutes,
        trueResidue: workplace.trueResidue(),
        forecasts,
      };
    }
    if (testPatch !== undefined && terms.isWithoutPatches !== true) {
      const areaM2 = terms.areaM2 ?? 1;
      setupMinutes += PATCH_SETUP_MINUTES / areaM2;
      const patchShare = (testPatch.widthMm * testPatch.lengthMm) / (1e6 * areaM2);
      beamMinutes += patchShare * minutesPerSquareMetreOf(testPatch.settings);
      const after = afterOf(workplace.tryPatch(testPatch.settings), terms);
      const patch = {
        settings: testPatch.settings,
        before: { residueFraction: seen },
        after,
        afterRounds: history.rounds.length,
      };
      history = historySchema.parse({ ...history, testPatches: [...(history.testPatches ?? []), patch] });
      continue;
    }
    const { settings, predicted } = suggestions[0];
    beamMinutes += workplace.treat(settings);
    const before = seen;
    seen = workplace.photograph();
    forecasts.push({ settings, predicted, trueResidue: workplace.trueResidue(), seenResidue: seen });
    const round = { settings, before: { residueFraction: before }, after: afterOf(seen, terms) };
    history = historySchema.parse({ ...history, rounds: [...history.rounds, round] });
  }
}

/**
 * Minutes per square metre of somebody who climbs a fixed ladder instead: at full width and power the frequency is halved
 * from half of its most, then passes are doubled, then the width is cut by a third, photographing after each round with
 * the same photos, until the target is shown met. Null when the ladder ends before.
 */
export function climbLadder(process: SimulatedProcess, terms: LoopTerms): number | null {
  const workplace = openWorkplace(process, terms);
  let minutes = 0;
  for (const settings of ladderOf(terms.machine)) {
    minutes += workplace.treat(settings);
    if (workplace.photograph() + 2 * terms.photoDeviation <= terms.target) return minutes;
  }
  return null;
}

function ladderOf(machine: Machine): Settings[] {
  const rungs: Settings[] = [];
  const step = (scanWidthMm: number, scanFrequencyHz: number, passes: number): void => {
    const covering = (machine.spotDiameterMm * scanFrequencyHz * machine.strokesPerCycle) / 2;
    const { min, max } = machine.travelSpeedMmPerS;
    const travelSpeedMmPerS = Math.min(max, Math.max(min, covering));
    const powerW = machine.powerW.max;
    rungs.push(settingsSchema.parse({ powerW, scanWidthMm, scanFrequencyHz, travelSpeedMmPerS, passes }));
  };
  const [widest, slowest] = [machine.scanWidthMm.max, machine.scanFrequencyHz.min];
  for (let hz = machine.scanFrequencyHz.max / 2; hz > slowest; hz /= 2) step(widest, hz, 1);
  for (let passes = 1; passes <= machine.maxPasses; passes *= 2) step(widest, slowest, passes);
  for (let width = widest / 1.5; width > machine.scanWidthMm.min; width /= 1.5) step(width, slowest, 1);
  step(machine.scanWidthMm.min, slowest, machine.maxPasses);
  return rungs;
}

const share = (value: number): number => Math.min(1, Math.max(0, value));

function afterOf(seen: number, terms: LoopTerms): object {
  const half = 2 * terms.photoDeviation;
  const interval = terms.isIntervalGiven === false ? {} : { low: share(seen - half), high: share(seen + half) };
  return { residueFraction: seen, ...interval };
}

const emptyHistory = ({ machine, target, surface, areaM2 }: LoopTerms): History =>
  historySchema.parse({
    machine,
    target: { residueFractionMax: target },
    rounds: [],
    ...(surface === undefined ? {} : { surface }),
    ...(areaM2 === undefined ? {} : { areaM2 }),
  });

/** Minutes per square metre of the quickest single round that meets the target, by trying a grid; null when none does. */
export function bestSingleMinutes(process: SimulatedProcess, machine: Machine, target: number): number | null {
  const found = settingsGrid(machine).find((settings) => process.treat(process.start, settings, 1).residue <= target);
  return found === undefined ? null : minutesPerSquareMetreOf(found);
}

/** Whether four rounds of the strongest setting leave more than the target. */
export function isBeyondMachine(process: SimulatedProcess, machine: Machine, target: number): boolean {
  const strongest = settingsSchema.parse({
    powerW: machine.powerW.max,
    scanWidthMm: machine.scanWidthMm.min,
    scanFrequencyHz: machine.scanFrequencyHz.min,
    travelSpeedMmPerS: machine.travelSpeedMmPerS.min,
    passes: machine.maxPasses,
  });
  let surface = process.start;
  for (let round = 0; round < 4; round++) surface = process.treat(surface, strongest, 1);
  return surface.residue > target;
}

const grids = new WeakMap<Machine, Settings[]>();

/** All single rounds tried for {@link bestSingleMinutes}, quickest first, at full power. */
function settingsGrid(machine: Machine): Settings[] {
  const known = grids.get(machine);
  if (known !== undefined) return known;
  const passes = [1, 2, 3, 4, 5, 6, 8, 10, 15, 20].filter((count) => count <= machine.maxPasses);
  const grid = equalRatios(machine.scanWidthMm, 7).flatMap((scanWidthMm) =>
    equalRatios(machine.scanFrequencyHz, 8).flatMap((scanFrequencyHz) =>
      equalRatios(machine.travelSpeedMmPerS, 18).flatMap((travelSpeedMmPerS) =>
        passes.map((count) =>
          settingsSchema.parse({
            powerW: machine.powerW.max,
            scanWidthMm,
            scanFrequencyHz,
            travelSpeedMmPerS,
            passes: count,
          }),
        ),
      ),
    ),
  );
  grid.sort((a, b) => minutesPerSquareMetreOf(a) - minutesPerSquareMetreOf(b));
  grids.set(machine, grid);
  return grid;
}

const equalRatios = ({ min, max }: { min: number; max: number }, steps: number): number[] =>
  Array.from({ length: steps }, (_, step) => min * (max / min) ** (step / (steps - 1)));
