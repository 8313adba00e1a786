import SqliteFile from 'better-sqlite3';
import { Kysely } from 'kysely';
import { auditEntrySchema } from '../../domain/index.ts';
import type { AuditEvent, AuditHead } from '../../domain/index.ts';
import { AUDIT_START, appendAuditEvent, auditHead } from '../../evidence/audit-chain.ts';
import { canonicalJson } from '../../evidence/canonical-json.ts';
import { sha256 } from '../security/sha256.ts';
import type { Database } from './database-schema.ts';
import { immediateSqlite } from './immediate-sqlite.ts';
import { namedObjects } from './named-objects.ts';
import { jsonOrNull } from './stored-json.ts';

/** Taken in one step, so that a server which goes on writing cannot make the copy begin again and again. */
const ALL_PAGES = 0x7fff_ffff;
const BUSY_TIMEOUT_MS = 30_000;

/** Copies a ledger as it stands at one moment, and answers the objects that the copy names. */
export async function copyLedger(from: string, to: string): Promise<readonly string[]> {
  const source = new SqliteFile(from, { fileMustExist: true, timeout: BUSY_TIMEOUT_MS });
  try {
    await source.backup(to, { progress: () => ALL_PAGES });
  } finally {
    source.close();
  }
  const copy = new SqliteFile(to);
  // One file, without a log beside it.
  copy.pragma('journal_mode = DELETE');
  const db = new Kysely<Database>({ dialect: immediateSqlite(copy) });
  try {
    return [...(await namedObjects(db))].sort();
  } finally {
    await db.destroy();
  }
}

/** Chains one row to the log of a ledger that a server may be writing to as well. */
export function noteInLedger(path: string, event: AuditEvent): AuditHead {
  const file = new SqliteFile(path, { fileMustExist: true, timeout: BUSY_TIMEOUT_MS });
  try {
    file.pragma('synchronous = FULL');
    const add = file.transaction(() => {
      const entry = appendAuditEvent(headOf(file), event, sha256);
      file
        .prepare('insert into audit_log (sequence, entry_json) values (?, ?)')
        .run(entry.sequence, canonicalJson(entry));
      return auditHead(entry);
    });
    return add.immediate();
  } finally {
    file.close();
  }
}

/** Hash of a row of the log; null where there is no such row, or it cannot be read. */
export function auditHashAt(path: string, sequence: number): string | null {
  const file = new SqliteFile(path, { fileMustExist: true, readonly: true });
  try {
    const text = file.prepare('select entry_json from audit_log where sequence = ?').pluck().get(sequence);
    const parsed = auditEntrySchema.safeParse(typeof text === 'string' ? jsonOrNull(text) : null);
    return parsed.success ? parsed.data.hash : null;
  } finally {
    file.close();
  }
}

function headOf(file: InstanceType<typeof SqliteFile>): AuditHead {
  const row = file.prepare('select sequence, entry_json from audit_log order by sequence desc limit 1').get() as
    { sequence: number; entry_json: string } | undefined;
  if (row === undefined) return AUDIT_START;
  const parsed = auditEntrySchema.safeParse(jsonOrNull(row.entry_json));
  return { sequence: row.sequence, hash: parsed.success ? parsed.data.hash : AUDIT_START.hash };
}
