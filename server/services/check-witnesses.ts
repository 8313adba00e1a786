import { sealSchema } from '../domain/index.ts';
import type { Verification } from '../domain/index.ts';
import type { LedgerRows } from './backup-ports.ts';
import type { InstallationProblem } from './installation-problem.ts';
import { jsonOrNull } from './json-or-null.ts';
import type { LogFacts } from './log-facts.ts';

/**
 * What lies outside a data folder and still knows what its log once held: a bundle that was handed out, or a row whose hash
 * is printed on a report. Only such a thing shows that a whole older data folder was put in the place of the present one.
 */
export interface Witness {
  /** File of the bundle, or how the row was given. */
  readonly name: string;
  /** A row of the log and how its hash begins; null for a bundle that tells none. */
  readonly row: { readonly sequence: number; readonly hashStart: string } | null;
  readonly record: { readonly id: string; readonly sha256: string } | null;
  /** Why it cannot be relied on. */
  readonly flaw: string | null;
}

/** What a bundle bears witness to. */
export function bundleWitness(name: string, { holds, problems, record }: Verification): Witness {
  if (!holds || record === null) {
    const why = problems.at(0)?.message ?? 'it holds no signed record.';
    return { name, row: null, record: null, flaw: `It bears no witness, because it does not hold itself: ${why}` };
  }
  const { auditHead, id, sha256 } = record;
  const row = auditHead === null ? null : { sequence: auditHead.sequence, hashStart: auditHead.hash };
  return { name, row, record: { id, sha256 }, flaw: null };
}

type SealedRows = ReturnType<LedgerRows['records']>;

/** What the data folder no longer has, or has otherwise, of what its witnesses saw. */
export function checkWitnesses(
  witnesses: readonly Witness[],
  log: LogFacts,
  records: SealedRows,
): InstallationProblem[] {
  const hashes = new Map(log.rows.map((row) => [sequenceOf(row), hashOf(row)]));
  return witnesses.flatMap(({ name, row, record, flaw }) => {
    const sentences = [flaw, rowSentence(row, hashes, log.head?.sequence ?? 0), recordSentence(record, records)];
    return sentences.filter((sentence) => sentence !== null).map((message) => ({ where: name, message }));
  });
}

function rowSentence(
  row: Witness['row'],
  hashes: ReadonlyMap<number | null, string>,
  lastSequence: number,
): string | null {
  if (row === null || row.sequence === 0) return null;
  const { sequence, hashStart } = row;
  const found = hashes.get(sequence);
  if (found === undefined) {
    return `It knows row ${sequence} of the audit log, but the log ends at row ${lastSequence}: an older one was put in its place, or rows were cut off.`;
  }
  if (found.startsWith(hashStart)) return null;
  return `Row ${sequence} of the audit log is not the one that it knows: the log was written anew.`;
}

function recordSentence(record: Witness['record'], records: SealedRows): string | null {
  if (record === null) return null;
  const isHere = records.some(
    ({ seal }) => sealSchema.safeParse(jsonOrNull(seal)).data?.recordSha256 === record.sha256,
  );
  return isHere ? null : `It holds ${record.id} as it was signed, and that is not here.`;
}

const sequenceOf = (row: unknown): number | null => (row as { sequence?: number } | null)?.sequence ?? null;
const hashOf = (row: unknown): string => (row as { hash?: string } | null)?.hash ?? '';
