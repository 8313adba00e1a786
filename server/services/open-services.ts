import type { SealKey, Sha256 } from '../evidence/ports.ts';
import type { Analyst } from './analysis-ports.ts';
import { keepAssessments } from './keep-assessments.ts';
import type { Assessments } from './keep-assessments.ts';
import { keepAuditLog } from './audit-log.ts';
import type { AuditLog } from './audit-log.ts';
import type { EvidencePress, TimeStamps } from './evidence-ports.ts';
import { handOutEvidence } from './hand-out-record.ts';
import type { EvidenceFiles } from './hand-out-record.ts';
import { keepCards } from './keep-cards.ts';
import type { Cards } from './keep-cards.ts';
import { keepComparisons } from './keep-comparisons.ts';
import type { Comparisons } from './keep-comparisons.ts';
import { keepCorrections } from './keep-corrections.ts';
import type { CorrectionBook } from './keep-corrections.ts';
import { keepJobs } from './keep-jobs.ts';
import type { Jobs } from './keep-jobs.ts';
import { keepLearning } from './keep-learning.ts';
import type { Learning } from './keep-learning.ts';
import { keepLessons } from './keep-lessons.ts';
import type { Lessons } from './keep-lessons.ts';
import { keepMachines } from './keep-machines.ts';
import type { Machines } from './keep-machines.ts';
import { keepPeople } from './keep-people.ts';
import type { People } from './keep-people.ts';
import { keepPhotos } from './keep-photos.ts';
import type { Photos } from './keep-photos.ts';
import { keepRecords } from './keep-records.ts';
import type { Records } from './keep-records.ts';
import { keepRounds } from './keep-rounds.ts';
import type { Rounds } from './keep-rounds.ts';
import { keepShop } from './keep-shop.ts';
import type { ShopSettings } from './keep-shop.ts';
import { keepTestPatches } from './keep-test-patches.ts';
import type { TestPatches } from './keep-test-patches.ts';
import { keepTrials } from './keep-trials.ts';
import type { Trials } from './keep-trials.ts';
import { keepZones } from './keep-zones.ts';
import type { Zones } from './keep-zones.ts';
import type { LabelPrinter } from './label-ports.ts';
import type { Ledger } from './ledger.ts';
import { limitAtOnce } from './limit-at-once.ts';
import type { ClassMapReader, ObjectStore, PhotoPictures, UploadDesk } from './object-ports.ts';
import type { Log, Metrics } from './observe-ports.ts';
import type { DemoSource } from './offer-demo.ts';
import { openSessions } from './open-sessions.ts';
import type { Sessions } from './open-sessions.ts';
import type { Clock, PasswordHasher, TokenMaker } from './people-ports.ts';
import type { CardPrinter, PhotoDecoder, PicturePainter, TrialPrinter } from './ports.ts';
import { progressBoard } from './progress-board.ts';
import type { ProgressBoard } from './progress-board.ts';
import type { SigningPorts } from './sign-zone-record.ts';
import { throttleAttempts } from './throttle-attempts.ts';
import type { UploadDoor } from './upload-ports.ts';
import { workThroughQueue } from './work-through-queue.ts';
import type { QueueWorker } from './work-through-queue.ts';

/** All that the server needs from outside. */
export interface ServerAdapters {
  /** Keeps other processes off the data folder. */
  readonly seal: { release(): void };
  readonly ledger: Ledger;
  readonly objects: ObjectStore;
  readonly uploads: UploadDesk & UploadDoor;
  readonly pictures: PhotoPictures;
  readonly classMaps: ClassMapReader;
  readonly decoder: PhotoDecoder;
  readonly painter: PicturePainter;
  readonly cardPrinter: CardPrinter;
  readonly trialPrinter: TrialPrinter;
  readonly labels: LabelPrinter;
  readonly passwords: PasswordHasher;
  readonly tokens: TokenMaker;
  readonly clock: Clock;
  readonly analyst: Analyst;
  readonly sealKey: SealKey;
  readonly sha256: Sha256;
  readonly timeStamps: TimeStamps;
  readonly press: EvidencePress;
  readonly demo: DemoSource;
  readonly log: Log;
  readonly metrics: Metrics;
}

export interface Services {
  readonly people: People;
  readonly sessions: Sessions;
  readonly jobs: Jobs;
  readonly zones: Zones;
  readonly rounds: Rounds;
  readonly photos: Photos;
  readonly assessments: Assessments;
  readonly corrections: CorrectionBook;
  readonly machines: Machines;
  readonly cards: Cards;
  readonly lessons: Lessons;
  readonly comparisons: Comparisons;
  readonly trials: Trials;
  readonly testPatches: TestPatches;
  readonly learning: Learning;
  readonly shop: ShopSettings;
  readonly records: Records;
  readonly signing: SigningPorts;
  readonly evidence: EvidenceFiles;
  readonly audit: AuditLog;
  readonly worker: QueueWorker;
  readonly board: ProgressBoard;
}

/** Photos that are decoded at once for requests: a photo of 48 megapixels takes about 200 MiB while it is open. */
const MOST_OPEN_PHOTOS = 2;

/** All use cases over one set of adapters. */
export function openServices(adapters: ServerAdapters, programVersion: string): Services {
  const board = progressBoard();
  const worker = workThroughQueue({ ...adapters, board });
  const waking = {
    ...adapters,
    board,
    programVersion,
    wake: () => {
      worker.wake();
    },
  };
  const rounds = keepRounds(adapters);
  const sessions = openSessions({ ...adapters, throttle: throttleAttempts() });
  const audit = keepAuditLog(adapters);
  const records = keepRecords(adapters);
  return {
    board,
    worker,
    rounds,
    sessions,
    audit,
    records,
    signing: { ...adapters, sessions, audit, records },
    evidence: handOutEvidence({ ...adapters, audit }),
    people: keepPeople(adapters),
    jobs: keepJobs(adapters),
    zones: keepZones(adapters),
    photos: keepPhotos({ ...adapters, rounds, oneOfFew: limitAtOnce(MOST_OPEN_PHOTOS) }),
    assessments: keepAssessments(waking),
    corrections: keepCorrections(adapters),
    machines: keepMachines(adapters),
    cards: keepCards(adapters),
    lessons: keepLessons(adapters),
    comparisons: keepComparisons(waking),
    trials: keepTrials(adapters),
    testPatches: keepTestPatches(adapters),
    learning: keepLearning(adapters),
    shop: keepShop(adapters),
  };
}
