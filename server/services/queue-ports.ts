export const WORK_KINDS = ['assessment', 'comparison'] as const;
export type WorkKind = (typeof WORK_KINDS)[number];

export interface WorkItem {
  readonly id: number;
  readonly kind: WorkKind;
  readonly subjectId: string;
  /** Times that the analysis itself threw. */
  readonly failures: number;
  /** Times that the whole process ended under it. */
  readonly interruptions: number;
}

/** Work that is owed. An item stays until it is finished: a process that dies leaves it leased, and the next start puts it back. */
export interface WorkQueue {
  /** Nothing happens when the subject waits already. */
  enqueue(kind: WorkKind, subjectId: string, at: string): Promise<void>;
  /** Takes the first item that is due. */
  lease(now: string): Promise<WorkItem | null>;
  finish(id: number): Promise<void>;
  /** After a failure, not before a time. */
  retry(id: number, notBefore: string): Promise<void>;
  /** Gives an item back untouched (the process is being stopped). */
  release(id: number): Promise<void>;
  /** Puts back what a dead process had leased, behind the others when it was interrupted often. */
  recover(now: string): Promise<number>;
  remove(subjectId: string): Promise<void>;
  counts(): Promise<{ waiting: number; running: number }>;
  /** Items that come first; null when the subject is not waiting. */
  waitingBefore(subjectId: string): Promise<number | null>;
}
