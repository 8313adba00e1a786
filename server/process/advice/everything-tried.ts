import { type History, type Round } from '../../domain/index.ts';
import { isNearDeepest } from './stroke-depth.ts';

/** Every treatment that tells something about the zone, in the order of time: patches before the round that followed them. */
export function everythingTried({ rounds, testPatches = [] }: Pick<History, 'rounds' | 'testPatches'>): Round[] {
  const madeAfter = (count: number): Round[] => testPatches.filter(({ afterRounds }) => afterRounds === count);
  return [...madeAfter(0), ...rounds.flatMap((round, index) => [round, ...madeAfter(index + 1)])];
}

/** Patches on the zone as it is now. */
export const patchesNow = ({ rounds, testPatches = [] }: Pick<History, 'rounds' | 'testPatches'>): Round[] =>
  testPatches.filter(({ afterRounds }) => afterRounds === rounds.length);

/** Whether a round or a patch was made with about the deepest stroke of the machine. */
export const hasTriedNearDeepest = (history: History): boolean =>
  everythingTried(history).some(({ settings }) => isNearDeepest(settings, history.machine));
