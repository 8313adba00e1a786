import { sql } from 'kysely';
import type { Kysely, SqlBool } from 'kysely';
import { auditEntrySchema } from '../../../domain/index.ts';
import { AUDIT_START } from '../../../evidence/audit-chain.ts';
import { canonicalJson } from '../../../evidence/canonical-json.ts';
import type { AuditStore } from '../../../services/record-ports.ts';
import type { Database } from '../database-schema.ts';
import { keysetPage } from '../keyset-page.ts';
import { occursInText } from '../search-text.ts';
import { jsonOrNull } from '../stored-json.ts';
import { auditSubjects } from './audit-subjects.ts';

/** The log, one row each as canonical JSON: what is hashed is what is kept. */
export function auditTable(db: Kysely<Database>): AuditStore {
  return {
    async head() {
      const row = await db.selectFrom('audit_log').selectAll().orderBy('sequence', 'desc').limit(1).executeTakeFirst();
      if (row === undefined) return AUDIT_START;
      const parsed = auditEntrySchema.safeParse(jsonOrNull(row.entry_json));
      // A damaged row is named by the check; the log goes on after it all the same.
      return { sequence: row.sequence, hash: parsed.success ? parsed.data.hash : AUDIT_START.hash };
    },
    async add(entry) {
      await db
        .insertInto('audit_log')
        .values({ sequence: entry.sequence, entry_json: canonicalJson(entry) })
        .execute();
    },
    list: (query) => listRows(db, query),
  };
}

/** A damaged row has no act; the check names it. */
const fieldOf = (field: 'act' | 'subject'): ReturnType<typeof sql<string>> =>
  sql<string>`case when json_valid(entry_json) then json_extract(entry_json, ${`$.${field}`}) end`;

async function listRows(
  db: Kysely<Database>,
  query: Parameters<AuditStore['list']>[0],
): ReturnType<AuditStore['list']> {
  let select = db.selectFrom('audit_log').selectAll();
  if (query.act !== undefined) select = select.where(sql<SqlBool>`${fieldOf('act')} = ${query.act}`);
  if (query.subject !== undefined) select = select.where(sql<SqlBool>`${fieldOf('subject')} = ${query.subject}`);
  const words = occursInText('audit_log.entry_json', query.q);
  if (words !== null) select = select.where(words);
  const page = await keysetPage(select, query, {
    sort: { sequence: 'audit_log.sequence' },
    id: 'audit_log.sequence',
  });
  const items = page.items.flatMap((row) => {
    const parsed = auditEntrySchema.safeParse(jsonOrNull(row.entry_json));
    return parsed.success ? [{ ...parsed.data, id: String(row.sequence) }] : [];
  });
  const about = await auditSubjects(
    db,
    items.map(({ subject }) => subject),
  );
  return { ...page, items: items.map((row) => ({ ...row, about: about.get(row.subject) ?? null })) };
}
