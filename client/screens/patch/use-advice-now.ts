import type { Advice } from '@domain/advice.ts';
import type { ZonePatch } from '@domain/api/test-patches.ts';
import { useAnswer } from '../../api/use-answer.ts';

interface AdviceNow {
  readonly advice: Advice | null;
  /** Tried since the answer; the advice counts them. */
  readonly patches: readonly ZonePatch[];
  readonly isWaiting: boolean;
}

/**
 * The advice of an answer, or what is advised now if test patches were tried since.
 * @param answered advice that the answer of this round came with
 */
export function useAdviceNow(zoneId: string, roundNumber: number, answered: Advice | null): AdviceNow {
  const params = { zoneId };
  const listed = useAnswer('listTestPatches', { params });
  const patches = (listed.data?.items ?? []).filter(({ afterRound }) => afterRound === roundNumber);
  const now = useAnswer('readZoneAdvice', patches.length === 0 ? null : { params });
  if (patches.length === 0) return { advice: answered, patches, isWaiting: listed.isPending };
  // A round was measured meanwhile: this answer is of the past.
  const isPast = now.data !== undefined && now.data.afterRound !== roundNumber;
  const advice = isPast ? answered : (now.data?.advice ?? null);
  return { advice, patches, isWaiting: now.isPending };
}
