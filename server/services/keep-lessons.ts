import type { z } from 'zod';
import type { Lesson, lessonChangeSchema, lessonsQuerySchema, newLessonSchema } from '../domain/api/lessons.ts';
import type { Page } from '../domain/api/paging.ts';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';

export interface LessonPorts {
  readonly ledger: Pick<Ledger, 'lessons' | 'assessments' | 'machines'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
}

export interface Lessons {
  list(query: z.output<typeof lessonsQuerySchema>): Promise<Page<Lesson>>;
  read(id: string): Promise<Outcome<Lesson>>;
  add(body: z.output<typeof newLessonSchema>, actor: Actor): Promise<Outcome<Lesson>>;
  change(id: string, change: z.output<typeof lessonChangeSchema>): Promise<Outcome<Lesson>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepLessons({ ledger, tokens, clock }: LessonPorts): Lessons {
  const read = async (id: string): Promise<Outcome<Lesson>> => {
    const lesson = await ledger.lessons.find(id);
    return lesson === null ? absent('lesson', id) : success(lesson);
  };
  const check = async (named: z.output<typeof lessonChangeSchema>): Promise<Outcome<null>> => {
    const { assessmentId, machineId } = named;
    if (typeof assessmentId === 'string' && (await ledger.assessments.find(assessmentId)) === null) {
      return absent('assessment', assessmentId);
    }
    if (typeof machineId === 'string' && (await ledger.machines.find(machineId)) === null) {
      return absent('machine', machineId);
    }
    return success(null);
  };
  return {
    read,
    list: (query) => ledger.lessons.list(query),
    async add({ id = tokens.newId(), ...lesson }, actor) {
      const checking = await check(lesson);
      if (!checking.ok) return checking;
      await ledger.lessons.add({ ...lesson, id, createdAt: nowOf(clock), createdBy: actor.id });
      return read(id);
    },
    async change(id, change) {
      const checking = await check(change);
      if (!checking.ok) return checking;
      await ledger.lessons.change(id, change, nowOf(clock));
      return read(id);
    },
    async remove(id) {
      return (await ledger.lessons.remove(id)) ? success(null) : absent('lesson', id);
    },
  };
}
