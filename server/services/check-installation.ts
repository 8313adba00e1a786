import { sealSchema } from '../domain/index.ts';
import type { AuditHead, Seal } from '../domain/index.ts';
import { filesOfRecord } from '../evidence/bundle/gather-bundle.ts';
import { canonicalBytes } from '../evidence/canonical-json.ts';
import { openRecord } from '../evidence/open-record.ts';
import type { Sha256, SignatureCheck } from '../evidence/ports.ts';
import { sealFlaw } from '../evidence/seal.ts';
import type { DataFolder, LedgerRows } from './backup-ports.ts';
import { checkAudit } from './check-audit.ts';
import { checkWitnesses } from './check-witnesses.ts';
import type { Witness } from './check-witnesses.ts';
import type { InstallationProblem } from './installation-problem.ts';
import { jsonOrNull } from './json-or-null.ts';
import { logFacts } from './log-facts.ts';
import type { LogFacts } from './log-facts.ts';
import { objectName } from './object-name.ts';

export interface InstallationReport {
  readonly schema: 'bareplate/data-check@1';
  readonly holds: boolean;
  readonly problems: readonly InstallationProblem[];
  readonly checked: {
    readonly files: number;
    readonly photos: number;
    readonly assessments: number;
    readonly signedRecords: number;
    readonly auditRows: number;
  };
  readonly auditHead: AuditHead | null;
}

export interface CheckTools {
  readonly sha256: Sha256;
  readonly signatures: SignatureCheck;
  /** Fingerprint of the installation's own key; null when its file cannot be read as a key. */
  readonly ownFingerprint: string | null;
  /** What lies outside the folder and knows what it should hold. */
  readonly witnesses?: readonly Witness[];
}

type FolderReader = Pick<DataFolder, 'readObject' | 'readAuditHeads'>;
type ObjectReader = Pick<DataFolder, 'readObject'>;

/** Follows every row, file, hash and seal of a data folder and names what does not hold. Changes nothing. */
export async function checkInstallation(
  rows: LedgerRows,
  folder: FolderReader,
  tools: CheckTools,
): Promise<InstallationReport> {
  const problems: InstallationProblem[] = [];
  const readable = <T>(table: string, read: () => readonly T[]): readonly T[] => {
    try {
      return read();
    } catch (error) {
      problems.push({
        where: `table ${table}`,
        message: `cannot be read: ${error instanceof Error ? error.message : ''}`,
      });
      return [];
    }
  };
  for (const flaw of readable('ledger', () => rows.flaws())) problems.push({ where: 'ledger.db', message: flaw });
  const audit = readable('audit_log', () => rows.audit());
  const records = readable('records', () => rows.records());
  const photos = readable('photos', () => rows.photos());
  const assessments = readable('assessments', () => rows.assessments());
  const log = logFacts(audit);
  const signed = records.filter(({ seal }) => seal !== null);
  const { flaws, badHeads } = checkAudit(log, records, await folder.readAuditHeads(), tools);
  problems.push(
    ...flaws.map(({ sequence, detail }) => ({ where: `audit row ${sequence}`, message: `The row ${detail}.` })),
    ...badHeads.map(({ name, message }) => ({ where: name, message })),
    ...records.flatMap((record) => recordProblems(record, log, tools)),
  );
  problems.push(
    ...missingRecords(records, log),
    ...checkResults(assessments, log, tools),
    ...checkPhotoRows(photos, log),
    ...checkWitnesses(tools.witnesses ?? [], log, records),
  );
  if (tools.ownFingerprint === null) {
    problems.push({ where: 'seal-key.pem', message: 'The file is missing or holds no key; restore it from a backup.' });
  }
  const named = namedFiles({ photos, assessments, records });
  problems.push(...(await checkObjects(named, folder, tools.sha256)));
  const checked = { files: named.size, photos: photos.length, assessments: assessments.length };
  return {
    schema: 'bareplate/data-check@1',
    holds: problems.length === 0,
    problems,
    checked: { ...checked, signedRecords: signed.length, auditRows: audit.length },
    auditHead: log.head,
  };
}

type RecordRow = ReturnType<LedgerRows['records']>[number];

function recordProblems(record: RecordRow, log: LogFacts, tools: CheckTools): InstallationProblem[] {
  const where = `record ${record.id}`;
  const problem = (message: string): InstallationProblem => ({ where, message });
  if (record.text === null) {
    return record.state === 'draft' && record.seal === null ? [] : [problem('Its text is gone.')];
  }
  const opened = openRecord(jsonOrNull(record.text));
  if (!opened.ok) return [problem(`Its text cannot be read as a record: ${opened.fault.code}.`)];
  const problems: InstallationProblem[] = [];
  const kept = new Map(record.files.map(({ path, sha256 }) => [path, sha256]));
  for (const { path, sha256 } of filesOfRecord(opened.value)) {
    if (kept.get(path) !== sha256) {
      problems.push(problem(`The row of its file "${path}" is gone or names another file.`));
    }
  }
  if (record.seal === null) {
    return record.state === 'ready' ? problems : [...problems, problem(`It is ${record.state} but carries no seal.`)];
  }
  const seal = sealSchema.safeParse(jsonOrNull(record.seal));
  if (!seal.success) return [...problems, problem('Its seal cannot be read.')];
  return [...problems, ...sealProblems(record, { text: record.text, seal: seal.data }, log, tools).map(problem)];
}

function sealProblems(
  { id, state }: RecordRow,
  { text, seal }: { text: string; seal: Seal },
  log: LogFacts,
  tools: CheckTools,
): string[] {
  const sentences: string[] = [];
  const flaw = sealFlaw({ text, seal }, tools);
  if (flaw !== null) sentences.push(`Its seal does not hold: ${flaw}.`);
  if (tools.ownFingerprint !== null && seal.keyFingerprint !== tools.ownFingerprint) {
    sentences.push('It was sealed with another key than the one of this installation.');
  }
  const logged = log.signed.get(id);
  if (logged === undefined) sentences.push('The audit log knows nothing of its signature.');
  else if (logged.recordSha256 !== seal.recordSha256) {
    sentences.push('It is not the record that the audit log saw signed.');
  }
  const expected = log.superseded.has(id) ? 'superseded' : logged?.verdict;
  if (expected !== undefined && state !== expected) {
    sentences.push(`It says "${state}", but the audit log "${expected}".`);
  }
  return sentences;
}

function missingRecords(records: readonly RecordRow[], log: LogFacts): InstallationProblem[] {
  const present = new Set(records.map(({ id }) => id));
  return [...log.signed.keys()]
    .filter((id) => !present.has(id))
    .map((id) => ({ where: `record ${id}`, message: 'The audit log saw it signed, but it is gone.' }));
}

function checkResults(
  assessments: ReturnType<LedgerRows['assessments']>,
  log: LogFacts,
  { sha256 }: CheckTools,
): InstallationProblem[] {
  return assessments.flatMap(({ id, result }) => {
    const logged = log.results.get(id);
    if (logged === undefined) return [];
    const where = `assessment ${id}`;
    const json = jsonOrNull(result);
    if (json === null) return [{ where, message: 'The audit log saw its result, but it is gone or cannot be read.' }];
    const isSame = sha256(canonicalBytes(json)) === logged;
    return isSame ? [] : [{ where, message: 'Its result was altered: it is not the one that the audit log saw.' }];
  });
}

function checkPhotoRows(photos: ReturnType<LedgerRows['photos']>, log: LogFacts): InstallationProblem[] {
  return photos.flatMap(({ id, fileName, sha256 }) => {
    const logged = log.photos.get(id);
    if (logged === undefined || logged === sha256) return [];
    return [{ where: `photo ${id}`, message: `The row of "${fileName}" names another file than the audit log saw.` }];
  });
}

interface NamingRows {
  readonly photos: ReturnType<LedgerRows['photos']>;
  readonly assessments: ReturnType<LedgerRows['assessments']>;
  readonly records: ReturnType<LedgerRows['records']>;
}

/** What each file is to the rows that name it. */
function namedFiles({ photos, assessments, records }: NamingRows): Map<string, string[]> {
  const named = new Map<string, string[]>();
  const name = (sha256: string, what: string): void => {
    named.set(sha256, [...(named.get(sha256) ?? []), what]);
  };
  for (const { id, fileName, sha256 } of photos) name(sha256, `photo "${fileName}" (${id})`);
  for (const { id, files } of assessments) {
    for (const [what, sha256] of files) name(sha256, `${what} of assessment ${id}`);
  }
  for (const { id, files } of records) for (const { path, sha256 } of files) name(sha256, `"${path}" of record ${id}`);
  return named;
}

async function checkObjects(
  named: ReadonlyMap<string, readonly string[]>,
  objects: ObjectReader,
  sha256: Sha256,
): Promise<InstallationProblem[]> {
  const problems: InstallationProblem[] = [];
  for (const [hash, uses] of named) {
    const where = objectName(hash);
    const bytes = await objects.readObject(hash);
    if (bytes === null) {
      problems.push({ where, message: `The file is missing: ${uses.join(', ')}.` });
      continue;
    }
    const found = sha256(bytes);
    if (found === hash) continue;
    const other = named.get(found);
    const how = other === undefined ? 'was altered' : `holds another file, ${other[0]}`;
    problems.push({ where, message: `The file ${how}: ${uses.join(', ')}.` });
  }
  return problems;
}
