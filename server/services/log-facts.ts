import { auditEntrySchema } from '../domain/index.ts';
import type { AuditHead } from '../domain/index.ts';

/** What the audit log says about things that are kept elsewhere. */
export interface LogFacts {
  /** Rows as they are kept; null for one that cannot be read. */
  readonly rows: readonly unknown[];
  readonly head: AuditHead | null;
  readonly signed: ReadonlyMap<string, { readonly recordSha256: unknown; readonly verdict: 'accepted' | 'rejected' }>;
  readonly superseded: ReadonlySet<string>;
  /** Hash of each assessment's result; of one that was measured again, the last. */
  readonly results: ReadonlyMap<string, string>;
  readonly photos: ReadonlyMap<string, string>;
}

/** Reads the log once; what a damaged row said is not known. */
export function logFacts(rows: readonly { readonly sequence: number; readonly text: string }[]): LogFacts {
  const json = rows.map(({ sequence, text }) => rowOrNull(sequence, text));
  const signed = new Map<string, { recordSha256: unknown; verdict: 'accepted' | 'rejected' }>();
  const superseded = new Set<string>();
  const [results, photos] = [new Map<string, string>(), new Map<string, string>()];
  let head: AuditHead | null = null;
  for (const row of json) {
    const parsed = auditEntrySchema.safeParse(row);
    if (!parsed.success) continue;
    const { act, subject, details, sequence, hash } = parsed.data;
    head = { sequence, hash };
    const [kind, id] = [subject.slice(0, subject.indexOf(':')), subject.slice(subject.indexOf(':') + 1)];
    const { recordSha256, resultSha256, photoId, sha256 } = details;
    if (kind === 'record' && (act === 'accepted' || act === 'rejected')) signed.set(id, { recordSha256, verdict: act });
    if (kind === 'record' && act === 'superseded') superseded.add(id);
    if (kind === 'assessment' && typeof resultSha256 === 'string') results.set(id, resultSha256);
    if (typeof photoId === 'string' && typeof sha256 === 'string') photos.set(photoId, sha256);
  }
  return { rows: json, head, signed, superseded, results, photos };
}

/** A row whose own number is not the one it is kept under was moved. */
function rowOrNull(sequence: number, text: string): unknown {
  try {
    const row: unknown = JSON.parse(text);
    return (row as { sequence?: unknown } | null)?.sequence === sequence ? row : null;
  } catch {
    return null;
  }
}
