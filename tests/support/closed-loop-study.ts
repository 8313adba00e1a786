import { type Machine } from '../../server/domain/index.ts';
import { bestSingleMinutes, climbLadder, isBeyondMachine, runClosedLoop, type LoopEnd } from './closed-loop.ts';
import { simulateProcess, type SimulatedKind } from './simulated-process.ts';

/** One simulated surface, worked on by the advice. */
export interface StudyCase {
  readonly kind: SimulatedKind;
  readonly seed: number;
  readonly removal: string;
  /** Quickest single setting, which only the simulation knows; null when no setting meets the target. */
  readonly bestMinutes: number | null;
  readonly ladderMinutes: number | null;
  readonly end: LoopEnd;
}

/** A simulated surface to be worked on: its kind and the seed of everything that is drawn. */
export interface StudyTask {
  readonly kind: SimulatedKind;
  readonly seed: number;
}

export interface StudyTerms {
  readonly machine: Machine;
  readonly photoDeviation: number;
  /** Size of the zone, m2, for the cost of test patches. */
  readonly areaM2?: number;
  readonly isWithoutPatches?: boolean;
}

export const STUDY_TARGET = 0.05;
const MOST_ROUNDS = 8;

/** Null for a surface that only several rounds of the strongest setting can bring to the target: it is neither case. */
export function studyCase(
  { kind, seed }: StudyTask,
  { machine, photoDeviation, areaM2, isWithoutPatches = false }: StudyTerms,
): StudyCase | null {
  const target = STUDY_TARGET;
  const process = simulateProcess({ kind, seed, machine });
  const bestMinutes = bestSingleMinutes(process, machine, target);
  if (bestMinutes === null && !isBeyondMachine(process, machine, target)) return null;
  const terms = {
    machine,
    target,
    seed,
    surface: kind,
    photoDeviation,
    mostRounds: MOST_ROUNDS,
    isWithoutPatches,
    ...(areaM2 === undefined ? {} : { areaM2 }),
  };
  const end = runClosedLoop(process, terms);
  const ladderMinutes = climbLadder(process, terms);
  return { kind, seed, removal: process.law.removal, bestMinutes, ladderMinutes, end };
}

export interface StudySummary {
  readonly reachable: number;
  /** Target truly met and not given up, where some single setting meets it. */
  readonly metShare: number;
  /** The same within four rounds. */
  readonly metInFourShare: number;
  /** Median of total minutes, set-up of patches included, over the beam time of the best single setting. */
  readonly medianRatio: number;
  /** The same with beam time alone. */
  readonly medianBeamRatio: number;
  /** The same with a stop after every round, that of the best single setting included. */
  readonly medianStopRatio: number;
  readonly meanPatches: number;
  readonly medianMinutes: number;
  readonly medianRounds: number;
  /** Median of total minutes over those of the ladder, where both end with the target met. */
  readonly ladderRatio: number;
  readonly unreachable: number;
  /** Method changed within four rounds, where no setting meets the target. */
  readonly changedShare: number;
  /** True residue, and the photo's, inside the 95 % interval that was foretold. */
  readonly coverage: number;
  readonly coverageOfPhotos: number;
}

export function summarise(cases: readonly StudyCase[]): StudySummary {
  const can = cases.flatMap((one) => (one.bestMinutes === null ? [] : [{ ...one, bestMinutes: one.bestMinutes }]));
  const cannot = cases.filter(({ bestMinutes }) => bestMinutes === null);
  const met = can.filter(({ end }) => end.verdict !== 'change method' && end.trueResidue <= TARGET_MET);
  const raced = met.flatMap(({ end, ladderMinutes }) => (ladderMinutes === null ? [] : [end.minutes / ladderMinutes]));
  const forecasts = cases.flatMap(({ end }) => end.forecasts);
  const within = (value: number, { low, high }: { low: number; high: number }): boolean =>
    low <= value && value <= high;
  return {
    reachable: can.length,
    metShare: met.length / can.length,
    metInFourShare: shareOf(can, isMetInFour),
    medianRatio: median(can.map(({ end, bestMinutes }) => end.minutes / bestMinutes)),
    medianBeamRatio: median(can.map(({ end, bestMinutes }) => end.beamMinutes / bestMinutes)),
    medianStopRatio: median(
      can.map(({ end, bestMinutes }) => (end.minutes + end.rounds * STOP_MINUTES) / (bestMinutes + STOP_MINUTES)),
    ),
    meanPatches: cases.reduce((sum, { end }) => sum + end.patches, 0) / cases.length,
    medianMinutes: median(can.map(({ end }) => end.minutes)),
    medianRounds: median(can.map(({ end }) => end.rounds)),
    ladderRatio: median(raced),
    unreachable: cannot.length,
    changedShare: shareOf(cannot, ({ end }) => end.verdict === 'change method' && end.rounds <= 4),
    coverage: shareOf(forecasts, ({ predicted, trueResidue }) => within(trueResidue, predicted)),
    coverageOfPhotos: shareOf(forecasts, ({ predicted, seenResidue }) => within(seenResidue, predicted)),
  };
}

/** Wiping, a photo and starting again, for each square metre. Common practice. */
const STOP_MINUTES = 0.5;

const isMetInFour = ({ end }: StudyCase): boolean =>
  end.forecasts.slice(0, 4).some(({ trueResidue }) => trueResidue <= TARGET_MET);

/** Nothing is added: met is met. */
const TARGET_MET = STUDY_TARGET;

const shareOf = <T>(list: readonly T[], holds: (one: T) => boolean): number => list.filter(holds).length / list.length;

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  return sorted.length % 2 === 1 ? sorted[Math.floor(middle)] : (sorted[middle - 1] + sorted[middle]) / 2;
}
