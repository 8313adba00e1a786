import type { Progress } from '../../domain/api/assessments.ts';
import type { Outcome } from '../../domain/index.ts';
import type { ProgressBoard } from '../../services/progress-board.ts';
import type { EventFeed } from '../call.ts';

/** Progress of one analysis until it is over. */
export const progressFeed = (
  subjectId: string,
  board: ProgressBoard,
  read: () => Promise<Outcome<Progress>>,
): EventFeed<Progress> => ({
  name: 'progress',
  read,
  isLast: ({ state }) => state === 'done' || state === 'failed',
  follow: (onChange) => board.follow(subjectId, onChange),
});
