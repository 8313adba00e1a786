import type { CardInPhoto } from '../domain/api/photos.ts';
import type { Assessment, Comparison, EarlierZone, Outcome, Round, SettingsFile, Zone } from '../domain/index.ts';
import type { StatedPatch } from './place-patches.ts';
import type { AssessmentResult, StoredClassMap } from './work-ports.ts';

/** All that the analysis of a round takes; plain values that can be sent to another thread. */
export interface AssessmentTask {
  readonly kind: 'assessment';
  readonly after: Uint8Array;
  readonly before: Uint8Array | null;
  readonly zone: Zone | null;
  readonly zoneBefore: Zone | null;
  readonly cardValues: string | null;
  readonly settings: SettingsFile | null;
  readonly earlierRounds: readonly Round[];
  /** Earlier zones of the same machine. */
  readonly earlierZones?: readonly EarlierZone[];
  readonly scrapeTest: Round['scrapeTest'] | null;
  readonly heatTint?: boolean | null;
  readonly testPatches?: readonly StatedPatch[];
  readonly areaM2?: number | null;
  readonly target: string | null;
  /** Written over the overlay. */
  readonly title: string;
}

export interface PatchesTask {
  readonly kind: 'patches';
  readonly photo: Uint8Array;
  readonly patches: readonly { readonly name: string; readonly zone: Zone; readonly settings: SettingsFile | null }[];
  readonly cardValues: string | null;
}

export interface CardTask {
  readonly kind: 'card';
  readonly photo: Uint8Array;
}

export type ClassMapPng = Omit<StoredClassMap, 'sha256' | 'doubtfulSha256'> & {
  readonly png: Uint8Array;
  /** Where two segmenters disagree; null where only one was asked. */
  readonly doubtfulPng: Uint8Array | null;
};

export interface AssessmentFindings {
  readonly assessment: Assessment;
  readonly overlayPng: Uint8Array;
  readonly classMaps: { readonly before: ClassMapPng | null; readonly after: ClassMapPng };
  /** In pixels of the after class map. */
  readonly streakLines: AssessmentResult['streakLines'];
}

/** How far an analysis is, in words for the operator. */
export type OnStage = (stage: string, fractionDone: number) => void;

/** Does the heavy work away from the thread that answers requests. Throws when the analysis breaks down or is stopped. */
export interface Analyst {
  assess(task: AssessmentTask, onStage: OnStage): Promise<Outcome<AssessmentFindings>>;
  comparePatches(task: PatchesTask, onStage: OnStage): Promise<Outcome<Comparison>>;
  lookForCard(task: CardTask): Promise<Outcome<CardInPhoto>>;
  /** Analyses that run at once at most. */
  readonly places: number;
  /** Breaks off what runs. */
  stop(): Promise<void>;
}
