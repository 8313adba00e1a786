import type { z } from 'zod';
import type { RunState } from '../domain/api/assessments.ts';
import type { cardsQuerySchema, ShopCard } from '../domain/api/cards.ts';
import type {
  comparisonsPageSchema,
  comparisonsQuerySchema,
  NewComparison,
  ShopComparison,
} from '../domain/api/comparisons.ts';
import type { Lesson, lessonsQuerySchema } from '../domain/api/lessons.ts';
import type { machinesQuerySchema, ShopMachine } from '../domain/api/machines.ts';
import type { Page } from '../domain/api/paging.ts';
import type { FaultNote } from '../domain/api/problem.ts';
import type { Shop } from '../domain/api/shop.ts';
import type { Change, Made } from './work-ports.ts';

type MachineToAdd = Pick<
  ShopMachine,
  'id' | 'name' | 'serialNumber' | 'note' | 'machine' | 'dialSteps' | 'isInvented' | 'createdAt'
>;

export interface MachineStore {
  add(machine: MachineToAdd): Promise<boolean>;
  find(id: string): Promise<ShopMachine | null>;
  change(
    id: string,
    change: Change<ShopMachine, 'name' | 'serialNumber' | 'note' | 'machine' | 'dialSteps' | 'isPutAway'>,
    at: string,
  ): Promise<boolean>;
  isUsed(id: string): Promise<boolean>;
  remove(id: string): Promise<boolean>;
  list(query: z.output<typeof machinesQuerySchema>): Promise<Page<ShopMachine>>;
}

/** Measured values with the text that they were read from. */
type CardValuesToKeep = NonNullable<ShopCard['values']> & { readonly text: string };

export interface CardStore {
  add(card: Pick<ShopCard, 'id' | 'name' | 'note' | 'edition' | 'createdAt'>): Promise<boolean>;
  find(id: string): Promise<ShopCard | null>;
  valuesTextOf(id: string): Promise<string | null>;
  setValues(id: string, values: CardValuesToKeep | null, at: string): Promise<boolean>;
  change(id: string, change: Change<ShopCard, 'name' | 'note' | 'isPutAway'>, at: string): Promise<boolean>;
  list(query: z.output<typeof cardsQuerySchema>): Promise<Page<ShopCard>>;
}

type LessonFields = 'title' | 'note' | 'assessmentId' | 'settings' | 'machineId';

export interface LessonStore {
  add(lesson: Made & Pick<Lesson, LessonFields>): Promise<boolean>;
  find(id: string): Promise<Lesson | null>;
  change(id: string, change: Change<Lesson, LessonFields>, at: string): Promise<boolean>;
  remove(id: string): Promise<boolean>;
  list(query: z.output<typeof lessonsQuerySchema>): Promise<Page<Lesson>>;
}

interface ComparisonToAdd extends Made {
  readonly title: string;
  readonly of: NewComparison['of'];
  readonly state: RunState;
  readonly sides: ShopComparison['sides'];
  readonly pairs: ShopComparison['pairs'];
  readonly warnings: ShopComparison['warnings'];
}

export interface ComparisonStore {
  add(comparison: ComparisonToAdd): Promise<boolean>;
  find(id: string): Promise<ShopComparison | null>;
  requestOf(id: string): Promise<NewComparison['of'] | null>;
  start(id: string): Promise<void>;
  finish(id: string, result: Pick<ShopComparison, 'sides' | 'pairs' | 'warnings'>): Promise<void>;
  fail(id: string, fault: FaultNote): Promise<void>;
  remove(id: string): Promise<boolean>;
  list(query: z.output<typeof comparisonsQuerySchema>): Promise<z.output<typeof comparisonsPageSchema>>;
  listOwed(): Promise<readonly { id: string; state: RunState }[]>;
}

export interface ShopStore {
  read(): Promise<Shop>;
  change(change: { readonly [K in keyof Shop]?: Shop[K] | undefined }): Promise<void>;
  /** Things that happen once in the life of a data folder. True the first time. */
  markOnce(mark: 'demo-offered'): Promise<boolean>;
}
