import type { PictureLight } from '../domain/picture-light.ts';
import type { z } from 'zod';
import type {
  AssessmentBasis,
  AssessmentSummary,
  assessmentsQuerySchema,
  RunState,
  ZoneAssessment,
} from '../domain/api/assessments.ts';
import type { Correction } from '../domain/api/corrections.ts';
import type { Job, jobsQuerySchema } from '../domain/api/jobs.ts';
import type { Page } from '../domain/api/paging.ts';
import type { Outline, PhotoRole, StoredPhoto } from '../domain/api/photos.ts';
import type { FaultNote } from '../domain/api/problem.ts';
import type { roundsQuerySchema, ZoneRound } from '../domain/api/rounds.ts';
import type { JobZone, zonesQuerySchema, ZoneStanding } from '../domain/api/zones.ts';
import type { Assessment, ColourError, GradeDecision, SurfaceInPhoto } from '../domain/index.ts';

/** When and by whom something was made. */
export interface Made {
  readonly id: string;
  readonly createdAt: string;
  readonly createdBy: string | null;
}
/** The fields of a new thing without what the store counts or names itself. */
type Fields<Thing, Keys extends keyof Thing> = Readonly<Pick<Thing, Keys>>;
export type Change<Thing, Keys extends keyof Thing> = { readonly [K in Keys]?: Thing[K] | undefined };

type JobToAdd = Made & Fields<Job, 'name' | 'customer' | 'note' | 'isInvented'>;

export interface JobStore {
  /** False when the id is taken. */
  add(job: JobToAdd): Promise<boolean>;
  find(id: string): Promise<Job | null>;
  change(id: string, change: Change<Job, 'name' | 'customer' | 'note' | 'isPutAway'>): Promise<boolean>;
  /** With all that belongs to it. */
  remove(id: string): Promise<boolean>;
  touch(id: string, at: string): Promise<void>;
  list(query: z.output<typeof jobsQuerySchema>): Promise<Page<Job>>;
  /** Jobs that are put away, were not worked on since, and hold no signed record. */
  listForgotten(untouchedSince: string): Promise<readonly string[]>;
  counts(): Promise<{ jobs: number; zones: number; zonesMeetingTarget: number; hasInventedJob: boolean }>;
}

type ZoneFields = 'name' | 'note' | 'surfaceKind' | 'thicknessMm' | 'areaM2' | 'targetGrade' | 'machineId';
type ZoneToAdd = Made & Fields<JobZone, ZoneFields | 'jobId' | 'labelCode'>;

export interface ZoneStore {
  add(zone: ZoneToAdd): Promise<boolean>;
  find(id: string): Promise<JobZone | null>;
  findByLabel(labelCode: string): Promise<JobZone | null>;
  change(id: string, change: Change<JobZone, ZoneFields | 'isPutAway'>): Promise<boolean>;
  setStanding(id: string, standing: ZoneStanding): Promise<void>;
  remove(id: string): Promise<boolean>;
  touch(id: string, at: string): Promise<void>;
  list(query: z.output<typeof zonesQuerySchema>): Promise<Page<JobZone>>;
}

type RoundFields = 'settings' | 'machineId' | 'cardId' | 'scrapeTest' | 'heatTint' | 'minutesSpent' | 'note';
/** The store numbers the rounds of a zone. */
type RoundToAdd = Made & Fields<ZoneRound, RoundFields | 'zoneId'>;

export interface RoundStore {
  add(round: RoundToAdd): Promise<boolean>;
  find(id: string): Promise<ZoneRound | null>;
  change(id: string, change: Change<ZoneRound, RoundFields>, at: string): Promise<boolean>;
  setPhoto(id: string, role: PhotoRole, photo: { id: string; outline: Outline | null } | null): Promise<void>;
  remove(id: string): Promise<boolean>;
  list(zoneId: string, query: z.output<typeof roundsQuerySchema>): Promise<Page<ZoneRound>>;
}

interface PhotoToAdd extends Omit<StoredPhoto, 'addedBy'> {
  /** The upload that it came by: taken twice, it is stored once. */
  readonly uploadId: string | null;
  readonly addedBy: string | null;
}

export interface PhotoStore {
  add(photo: PhotoToAdd): Promise<boolean>;
  find(id: string): Promise<StoredPhoto | null>;
  findByUpload(uploadId: string): Promise<StoredPhoto | null>;
  /** Forgets photos that nothing shows and that were added before. */
  removeUnused(addedBefore: string): Promise<void>;
}

interface AssessmentToAdd {
  readonly id: string;
  readonly roundId: string;
  readonly queuedAt: string;
  readonly requestedBy: string | null;
  readonly targetGrade: string | null;
  readonly beforePhotoId: string | null;
  readonly afterPhotoId: string;
  readonly basis: AssessmentBasis;
  readonly programVersion: string;
}

/** A class map that is stored as an object. */
export interface StoredClassMap {
  readonly sha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly photoPxPerPixel: number;
  /** Homography from the map's pixels to the plane of the surface, row-major 3 x 3: what area a pixel stands for. */
  readonly planeFromMap: readonly number[];
  /** Object that holds where two segmenters disagree; null where only one was asked. */
  readonly doubtfulSha256: string | null;
  /** How the surface is seen in the upright photo, lens and zone included; null without a card in view. */
  readonly surface: SurfaceInPhoto | null;
  /** What shows the photo in true colour; null without a usable card. */
  readonly light: PictureLight | null;
}

export interface AssessmentFiles {
  readonly overlay: string;
  readonly classMaps: Readonly<Record<PhotoRole, StoredClassMap | null>>;
  /** Objects that hold the class maps as corrected by people; null without a correction that stands. */
  readonly correctedMaps: CorrectedMapFiles;
}
type CorrectedMapFiles = Readonly<Record<PhotoRole, string | null>>;

export interface AssessmentResult {
  readonly result: Assessment;
  readonly decision: GradeDecision | null;
  readonly minutesPerSquareMetre: number | null;
  readonly files: Omit<AssessmentFiles, 'correctedMaps'>;
  /** In pixels of the after class map. */
  readonly streakLines: ZoneAssessment['streakLines'];
}

export interface AssessmentStore {
  add(assessment: AssessmentToAdd): Promise<boolean>;
  /** Without `progress` beyond the state, which only the running process knows. */
  find(id: string): Promise<ZoneAssessment | null>;
  filesOf(id: string): Promise<AssessmentFiles | null>;
  start(id: string, at: string): Promise<void>;
  finish(id: string, at: string, result: AssessmentResult): Promise<void>;
  fail(id: string, at: string, fault: FaultNote): Promise<void>;
  setCorrected(id: string, corrected: ZoneAssessment['corrected'], maps: CorrectedMapFiles): Promise<void>;
  list(query: z.output<typeof assessmentsQuerySchema>): Promise<Page<AssessmentSummary>>;
  latestDoneOf(zoneId: string): Promise<AssessmentSummary | null>;
  /** Ids whose state says that work is owed. */
  listOwed(): Promise<readonly { id: string; state: RunState }[]>;
  /** Finished assessments of a zone by round, the newest of each round, with their results. */
  doneByRound(zoneId: string): Promise<readonly { roundNumber: number; basis: AssessmentBasis; result: Assessment }[]>;
  cardReadings(
    cardId: string,
    query: { sort: 'at' | '-at'; limit: number; cursor?: string | undefined },
  ): Promise<Page<{ assessmentId: string; zoneName: string; at: string; colourErrorDeltaE00: ColourError }>>;
}

export interface CorrectionStore {
  add(correction: Omit<Correction, 'madeBy' | 'withdrawnAt' | 'withdrawnBy'> & { madeBy: string }): Promise<boolean>;
  /** False when it is not there or withdrawn already. */
  withdraw(id: string, assessmentId: string, act: { at: string; by: string }): Promise<boolean>;
  /** Oldest first. */
  list(assessmentId: string): Promise<readonly Correction[]>;
}
