import type { Kysely } from 'kysely';
import type { Lesson } from '../../../domain/api/lessons.ts';
import { settingsSchema } from '../../../domain/index.ts';
import type { LessonStore } from '../../../services/shop-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { given, readJsonOrNull, writeJsonOrNull } from '../stored-json.ts';

const lessons = (db: Kysely<Database>) =>
  db
    .selectFrom('lessons')
    .leftJoin('people', 'people.id', 'lessons.created_by')
    .selectAll('lessons')
    .select('people.name as person_name');

type LessonRow = Awaited<ReturnType<ReturnType<typeof lessons>['executeTakeFirstOrThrow']>>;

const lessonFromRow = (row: LessonRow): Lesson => ({
  id: row.id,
  title: row.title,
  note: row.note,
  assessmentId: row.assessment_id,
  settings: readJsonOrNull(settingsSchema, row.settings_json),
  machineId: row.machine_id,
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
  updatedAt: row.updated_at,
});

export function lessonsTable(db: Kysely<Database>): LessonStore {
  return {
    add: (lesson) =>
      insertOnce(
        db.insertInto('lessons').values({
          id: lesson.id,
          title: lesson.title,
          note: lesson.note,
          assessment_id: lesson.assessmentId,
          settings_json: writeJsonOrNull(lesson.settings),
          machine_id: lesson.machineId,
          created_at: lesson.createdAt,
          created_by: lesson.createdBy,
          updated_at: lesson.createdAt,
          search_text: searchText(lesson.title),
        }),
      ),
    async find(id) {
      const row = await lessons(db).where('lessons.id', '=', id).executeTakeFirst();
      return row === undefined ? null : lessonFromRow(row);
    },
    async change(id, change, at) {
      const columns = given({
        title: change.title,
        note: change.note,
        assessment_id: change.assessmentId,
        settings_json: change.settings === undefined ? undefined : writeJsonOrNull(change.settings),
        machine_id: change.machineId,
        search_text: change.title === undefined ? undefined : searchText(change.title),
        updated_at: at,
      });
      const result = await db.updateTable('lessons').set(columns).where('id', '=', id).executeTakeFirst();
      return result.numUpdatedRows > 0n;
    },
    async remove(id) {
      const result = await db.deleteFrom('lessons').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async list(query) {
      let select = lessons(db);
      const words = matchesWords('lessons.search_text', query.q);
      if (words !== null) select = select.where(words);
      const page = await keysetPage(select, query, {
        sort: { title: 'lessons.title', createdAt: 'lessons.created_at', updatedAt: 'lessons.updated_at' },
        id: 'lessons.id',
      });
      return { ...page, items: page.items.map((row) => lessonFromRow(row)) };
    },
  };
}
