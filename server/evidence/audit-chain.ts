import { auditEntrySchema } from '../domain/index.ts';
import type { AuditEntry, AuditEvent, AuditHead } from '../domain/index.ts';
import { canonicalBytes } from './canonical-json.ts';
import type { Sha256 } from './ports.ts';

/** What stands before the first row. */
export const AUDIT_START: AuditHead = { sequence: 0, hash: '0'.repeat(64) };

/** Chains an event to the head of the log: SHA-256 over the canonical JSON of the row without its own hash. */
export function appendAuditEvent(head: AuditHead, event: AuditEvent, sha256: Sha256): AuditEntry {
  const row = { ...event, sequence: head.sequence + 1, previousHash: head.hash };
  return { ...row, hash: sha256(canonicalBytes(row)) };
}

export const auditHead = ({ sequence, hash }: AuditEntry): AuditHead => ({ sequence, hash });

export interface AuditFlaw {
  /** Row at which the log stops holding; for rows cut off at the end, the first that is missing. */
  readonly sequence: number;
  readonly detail: string;
}

export interface AuditCheck {
  readonly sha256: Sha256;
  /** Heads kept elsewhere (in signed records, in the sealed head beside the log): what shows that rows were cut off or the whole log rewritten. */
  readonly knownHeads: readonly AuditHead[];
}

/** Every row that does not hold, in order. Altered, removed, inserted, swapped and cut-off rows are each named. */
export function checkAuditChain(rows: readonly unknown[], check: AuditCheck): AuditFlaw[] {
  const flaws: AuditFlaw[] = [];
  let head = AUDIT_START;
  const hashes = new Map<number, string>();
  for (const row of rows) {
    const expected = head.sequence + 1;
    const parsed = auditEntrySchema.safeParse(row);
    if (!parsed.success) {
      flaws.push({ sequence: expected, detail: `is not a row of the log: ${parsed.error.issues[0].path.join('.')}` });
      head = { sequence: expected, hash: hashIn(row) };
      continue;
    }
    const entry = row as AuditEntry;
    flaws.push(...rowFlaws(entry, head, check.sha256));
    hashes.set(entry.sequence, entry.hash);
    head = auditHead(entry);
  }
  return [...flaws, ...headFlaws(hashes, check.knownHeads, head.sequence)];
}

function rowFlaws(entry: AuditEntry, head: AuditHead, sha256: Sha256): AuditFlaw[] {
  const { hash, ...row } = entry;
  const at = entry.sequence;
  if (at !== head.sequence + 1) {
    return [{ sequence: head.sequence + 1, detail: `is missing or out of place: row ${at} stands here` }];
  }
  // Computed from the row as kept, so that an added field shows as well.
  if (sha256(canonicalBytes(row)) !== hash) return [{ sequence: at, detail: 'was altered: its hash does not fit it' }];
  if (entry.previousHash !== head.hash) {
    return [{ sequence: at, detail: `does not follow row ${head.sequence} as it stands now` }];
  }
  return [];
}

function headFlaws(hashes: ReadonlyMap<number, string>, heads: readonly AuditHead[], last: number): AuditFlaw[] {
  return heads
    .filter((head) => head.sequence > 0 && hashes.get(head.sequence) !== head.hash)
    .map((head) => ({
      sequence: head.sequence,
      detail:
        head.sequence > last
          ? `is missing: the log ends at row ${last}, but a signed record or the sealed head knows row ${head.sequence}`
          : 'is not the row that a signed record or the sealed head knows: the log was written anew',
    }));
}

/** The hash that a damaged row still shows, so that the rows after it are judged on their own. */
function hashIn(row: unknown): string {
  const hash: unknown = typeof row === 'object' && row !== null && 'hash' in row ? row.hash : null;
  return typeof hash === 'string' ? hash : '';
}
