import {
  historySchema,
  settingsSchema,
  type AdviceVerdict,
  type History,
  type Machine,
  type Settings,
} from '../../server/domain/index.ts';
import { adviseNextRound } from '../../server/process/advice/advise-next-round.ts';
import { minutesPerSquareMetreOf } from '../../server/process/kinematics/area-rate.ts';
import { seededNormal, seededRandom } from './seeded-random.ts';
import { type SimulatedProcess } from './simulated-process.ts';

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
  /** Whether an operator who reads "cannot tell" stops there instead of taking the first suggestion. */
  readonly isStoppedWhenUnclear?: boolean;
}

export interface LoopEnd {
  readonly verdict: AdviceVerdict;
  readonly rounds: number;
  readonly minutes: number;
  readonly trueResidue: number;
  readonly history: History;
  readonly times: number[];
  readonly minutesToTrue: number | null;
  readonly forecasts: { low: number; high: number; true: number; seen: number }[];
  readonly log: string[];
}

/** Advise, treat with a hand that errs evenly by up to 20 %, photograph with noise, advise again, from an empty history. */
export function runClosedLoop(process: SimulatedProcess, terms: LoopTerms): LoopEnd {
  const random = seededRandom(104_729 * terms.seed + 17);
  let surface = process.start;
  let [minutes, seen] = [0, surface.residue];
  let history = emptyHistory(terms);
  const times: number[] = [];
  const forecasts: LoopEnd['forecasts'] = [];
  const log: string[] = [];
  let minutesToTrue: number | null = null;
  for (;;) {
    const advice = adviseNextRound(history);
    if (!advice.ok) throw new Error(`Advice refused its own history: ${JSON.stringify(advice.fault)}`);
    const { verdict, suggestions } = advice.value;
    const isOver = verdict === 'meets target' || verdict === 'change method';
    const isUnclear = verdict === 'cannot tell' && terms.isStoppedWhenUnclear === true;
    if (isOver || isUnclear || history.rounds.length >= terms.mostRounds) {
      return {
        verdict,
        rounds: history.rounds.length,
        minutes,
        trueResidue: surface.residue,
        history,
        times,
        forecasts,
        log,
        minutesToTrue,
      };
    }
    const { settings } = suggestions[0];
    surface = process.treat(surface, settings, 0.8 + 0.4 * random());
    minutes += minutesPerSquareMetreOf(settings);
    const before = seen;
    seen = share(surface.residue + terms.photoDeviation * seededNormal(random));
    times.push(minutesPerSquareMetreOf(settings));
    if (minutesToTrue === null && surface.residue <= terms.target) minutesToTrue = minutes;
    const { low, high } = suggestions[0].predicted;
    forecasts.push({ low, high, true: surface.residue, seen });
    log.push(
      `${Object.values(settings).join('/')} ${verdict} P=${suggestions[0].probabilityMeetsTarget.toFixed(2)} pred ${suggestions[0].predicted.value.toFixed(3)} [${low.toFixed(3)} ${high.toFixed(3)}] -> ${surface.residue.toFixed(4)} seen ${seen.toFixed(3)} ${minutesPerSquareMetreOf(settings).toFixed(1)} min`,
    );
    const half = 2 * terms.photoDeviation;
    const interval = terms.isIntervalGiven === false ? {} : { low: share(seen - half), high: share(seen + half) };
    const round = { settings, before: { residueFraction: before }, after: { residueFraction: seen, ...interval } };
    history = historySchema.parse({ ...history, rounds: [...history.rounds, round] });
  }
}

const share = (value: number): number => Math.min(1, Math.max(0, value));

const emptyHistory = ({ machine, target, surface }: LoopTerms): History =>
  historySchema.parse({
    machine,
    target: { residueFractionMax: target },
    rounds: [],
    ...(surface === undefined ? {} : { surface }),
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
  const grid = ladder(machine.scanWidthMm, 7).flatMap((scanWidthMm) =>
    ladder(machine.scanFrequencyHz, 8).flatMap((scanFrequencyHz) =>
      ladder(machine.travelSpeedMmPerS, 18).flatMap((travelSpeedMmPerS) =>
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

const ladder = ({ min, max }: { min: number; max: number }, steps: number): number[] =>
  Array.from({ length: steps }, (_, step) => min * (max / min) ** (step / (steps - 1)));
