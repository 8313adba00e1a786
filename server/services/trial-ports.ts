import type { z } from 'zod';
import type { AssessmentBasis } from '../domain/api/assessments.ts';
import type { ZonePatch } from '../domain/api/test-patches.ts';
import type { ShopTrial, trialsPageSchema, trialsQuerySchema } from '../domain/api/trials.ts';
import type { Assessment, SurfaceKind, TrialResult } from '../domain/index.ts';
import type { Made } from './work-ports.ts';

export interface TrialStore {
  add(trial: Made & Pick<ShopTrial, 'name' | 'machineId' | 'plan'>): Promise<boolean>;
  find(id: string): Promise<ShopTrial | null>;
  setResult(id: string, comparisonId: string, result: TrialResult, at: string): Promise<void>;
  remove(id: string): Promise<boolean>;
  list(query: z.output<typeof trialsQuerySchema>): Promise<z.output<typeof trialsPageSchema>>;
}

/** A finished assessment as it is learned from. */
export interface DoneOnMachine {
  readonly zoneId: string;
  readonly at: string;
  readonly roundNumber: number;
  readonly basis: AssessmentBasis;
  readonly result: Assessment;
  /** Of the zone, and of its round, where somebody stated them. */
  readonly areaM2: number | null;
  readonly minutesSpent: number | null;
}

export interface LearningStore {
  /** The latest finished assessments of a machine, oldest first. */
  doneOfMachine(machineId: string): Promise<readonly DoneOnMachine[]>;
  forget(machineId: string, kind: SurfaceKind, at: string): Promise<void>;
  forgottenAt(machineId: string): Promise<ReadonlyMap<SurfaceKind, string>>;
}

export interface TestPatchStore {
  /** False when the id is taken. */
  add(patch: Made & Omit<ZonePatch, keyof Made>): Promise<boolean>;
  find(id: string): Promise<ZonePatch | null>;
  /** Oldest first. */
  ofZone(zoneId: string): Promise<readonly ZonePatch[]>;
  remove(id: string): Promise<boolean>;
}
