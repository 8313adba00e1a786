import type { InvitationStore, PeopleStore, SessionStore } from './people-ports.ts';
import type { WorkQueue } from './queue-ports.ts';
import type { AuditStore, RecordStore } from './record-ports.ts';
import type { CardStore, ComparisonStore, LessonStore, MachineStore, ShopStore } from './shop-ports.ts';
import type { LearningStore, TestPatchStore, TrialStore } from './trial-ports.ts';
import type { AssessmentStore, CorrectionStore, JobStore, PhotoStore, RoundStore, ZoneStore } from './work-ports.ts';

export interface Tables {
  readonly people: PeopleStore;
  readonly sessions: SessionStore;
  readonly invitations: InvitationStore;
  readonly jobs: JobStore;
  readonly zones: ZoneStore;
  readonly rounds: RoundStore;
  readonly photos: PhotoStore;
  readonly assessments: AssessmentStore;
  readonly corrections: CorrectionStore;
  readonly machines: MachineStore;
  readonly cards: CardStore;
  readonly lessons: LessonStore;
  readonly comparisons: ComparisonStore;
  readonly trials: TrialStore;
  readonly testPatches: TestPatchStore;
  readonly learning: LearningStore;
  readonly shop: ShopStore;
  readonly queue: WorkQueue;
  readonly records: RecordStore;
  readonly audit: AuditStore;
}

/** All that is kept in rows. */
export interface Ledger extends Tables {
  /**
   * Does several things or none. Inside, only the tables that are handed in may be used: the others wait for the end.
   * When it is done, it is on the disk.
   */
  transact<T>(work: (tables: Tables) => Promise<T>): Promise<T>;
  /** Hashes of all objects that a row names. */
  namedObjects(): Promise<ReadonlySet<string>>;
  /** Answers when the database does. */
  ping(): Promise<void>;
  close(): Promise<void>;
}
