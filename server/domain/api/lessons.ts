import { z } from 'zod';
import { settingsSchema } from '../settings.ts';
import { idSchema, momentSchema, nameSchema, noteSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery } from './paging.ts';
import { personRefSchema } from './people.ts';
import { orNull } from './or-null.ts';

/** What a trainer keeps to show others: an assessment, settings to compare it with, and words. */
export const lessonSchema = z
  .object({
    id: idSchema,
    title: z.string(),
    note: z.string(),
    assessmentId: orNull(idSchema),
    settings: settingsSchema.nullable(),
    machineId: orNull(idSchema),
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
    updatedAt: momentSchema,
  })
  .meta({ id: 'Lesson' });
export type Lesson = z.infer<typeof lessonSchema>;

const lessonFields = {
  title: nameSchema,
  note: noteSchema,
  assessmentId: orNull(idSchema),
  settings: settingsSchema.nullable(),
  machineId: orNull(idSchema),
};
export const newLessonSchema = z.object({
  ...ownId,
  title: lessonFields.title,
  note: lessonFields.note.default(''),
  assessmentId: lessonFields.assessmentId.default(null),
  settings: lessonFields.settings.default(null),
  machineId: lessonFields.machineId.default(null),
});
export const lessonChangeSchema = z.object(lessonFields).partial();
export const lessonsQuerySchema = pageQuery(['updatedAt', 'title', 'createdAt'], '-updatedAt');
export const lessonsPageSchema = pageOf(lessonSchema);
