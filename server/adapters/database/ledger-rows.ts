import SqliteFile from 'better-sqlite3';
import type { LedgerRows } from '../../services/backup-ports.ts';

/** Rows of a ledger file as they are kept, for checking; also while a server writes to it. */
export function openLedgerRows(path: string): LedgerRows {
  const file = new SqliteFile(path, { fileMustExist: true, readonly: true });
  const all = <Row>(sql: string): Row[] => file.prepare(sql).all() as Row[];
  return {
    flaws: () => ledgerFlaws(file),
    photos: () => all(`select id, file_name as fileName, sha256, size_bytes as sizeBytes from photos order by id`),
    assessments: () => all<AssessmentRow>(ASSESSMENTS).map(assessmentFrom),
    records() {
      const files = all<{ id: string; path: string; sha256: string }>(
        `select record_id as id, path, sha256 from record_files order by record_id, path`,
      );
      return all<RecordRow>(
        `select id, state, record_text as text, seal_json as seal, supersedes_id as supersedesId from records order by id`,
      ).map((record) => ({ ...record, files: files.filter(({ id }) => id === record.id) }));
    },
    audit: () => all(`select sequence, entry_json as text from audit_log order by sequence`),
    close: () => void file.close(),
  };
}

interface RecordRow {
  readonly id: string;
  readonly state: string;
  readonly text: string | null;
  readonly seal: string | null;
  readonly supersedesId: string | null;
}

interface AssessmentRow {
  readonly id: string;
  readonly overlay: string | null;
  readonly beforeMap: string | null;
  readonly afterMap: string | null;
  readonly corrected: string | null;
  readonly result: string | null;
}
const ASSESSMENTS = `select id, overlay_sha256 as overlay, before_map_json as beforeMap, after_map_json as afterMap,
  corrected_json as corrected, result_json as result from assessments left join assessment_results on assessment_id = id order by id`;

function assessmentFrom({
  id,
  overlay,
  beforeMap,
  afterMap,
  corrected,
  result,
}: AssessmentRow): ReturnType<LedgerRows['assessments']>[number] {
  const files: (readonly [string, string])[] = overlay === null ? [] : [['overlay', overlay]];
  for (const [role, text] of [
    ['before', beforeMap],
    ['after', afterMap],
  ] as const) {
    if (text === null) continue;
    const map = JSON.parse(text) as { sha256: string; doubtfulSha256?: string | null };
    files.push([`${role} class map`, map.sha256]);
    if (typeof map.doubtfulSha256 === 'string') files.push([`${role} doubtful area`, map.doubtfulSha256]);
  }
  const { maps } = JSON.parse(corrected ?? '{}') as { maps?: Record<string, string | null> };
  for (const [role, sha256] of Object.entries(maps ?? {})) {
    if (sha256 !== null) files.push([`${role} class map as corrected`, sha256]);
  }
  return { id, files, result };
}

/** What the database's own checks find; a table too damaged for them says so. */
function ledgerFlaws(file: InstanceType<typeof SqliteFile>): string[] {
  const flaws: string[] = [];
  try {
    for (const row of file.pragma('integrity_check') as { integrity_check: string }[]) {
      if (row.integrity_check !== 'ok') flaws.push(row.integrity_check);
    }
    for (const row of file.pragma('foreign_key_check') as { table: string; parent: string }[]) {
      flaws.push(`A row of "${row.table}" names one of "${row.parent}" that is gone.`);
    }
  } catch (error) {
    flaws.push(error instanceof Error ? error.message : 'it cannot be read');
  }
  return flaws;
}
