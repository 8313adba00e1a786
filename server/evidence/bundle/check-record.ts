import { faultSentence } from '../../domain/index.ts';
import type { InspectionRecord, Problem } from '../../domain/index.ts';
import { canonicalJson } from '../canonical-json.ts';
import { openRecord } from '../open-record.ts';
import { BUNDLE } from './bundle-names.ts';
import { decode, problem } from './check-files.ts';
import type { BundleTools } from './check-files.ts';
import { filesOfRecord } from './gather-bundle.ts';
import type { BundleFiles } from './manifest.ts';

export interface RecordFinding {
  readonly record: InspectionRecord | null;
  readonly problems: readonly Problem[];
}

/**
 * Reads the record, checks its signature, and that it names the very files that lie beside it.
 * @param altered files that are known to be altered: what follows from that is not told again
 */
export function checkRecord(files: BundleFiles, altered: ReadonlySet<string>, tools: BundleTools): RecordFinding {
  const bytes = files.get(BUNDLE.record);
  if (bytes === undefined) return { record: null, problems: [] };
  const text = decode(bytes);
  const json = parseJson(text);
  const opened = openRecord(json);
  const isAltered = (...paths: readonly string[]): boolean => paths.some((path) => altered.has(path));
  const signature = isAltered(BUNDLE.record, BUNDLE.recordSignature, BUNDLE.publicKey)
    ? []
    : signatureProblems(files, bytes, tools);
  if (!opened.ok) {
    const unreadable = problem('record-unreadable', BUNDLE.record, faultSentence(opened.fault));
    return { record: null, problems: [unreadable, ...signature] };
  }
  const record = opened.value;
  const problems = [...signature];
  if (!isCanonical(json, text)) {
    problems.push(problem('record-not-canonical', BUNDLE.record, 'The record is not in its canonical spelling.'));
  }
  if (record.decision === null) {
    problems.push(problem('record-not-signed', BUNDLE.record, 'The record carries no decision: nobody has signed it.'));
  }
  if (!isAltered(BUNDLE.record)) {
    problems.push(...namedFileProblems(files, record, tools).filter(({ path }) => !isAltered(path)));
    if (!isAltered(BUNDLE.report)) problems.push(...reportProblems(files, bytes, tools));
  }
  return { record, problems };
}

function signatureProblems(files: BundleFiles, record: Uint8Array, { signatures }: BundleTools): Problem[] {
  const signature = files.get(BUNDLE.recordSignature);
  if (signature === undefined) return [];
  const pem = decode(files.get(BUNDLE.publicKey));
  if (signatures.fingerprint(pem) === null || signatures.holds(pem, record, signature)) return [];
  return [problem('record-signature-wrong', BUNDLE.recordSignature, 'The signature does not belong to the record.')];
}

function namedFileProblems(files: BundleFiles, record: InspectionRecord, { sha256 }: BundleTools): Problem[] {
  return filesOfRecord(record).flatMap(({ path, sha256: named }) => {
    const bytes = files.get(path);
    if (bytes === undefined) return [problem('file-missing', path, 'The record names this file, but it is missing.')];
    if (sha256(bytes) === named) return [];
    return [problem('record-names-another-file', path, 'The file is not the one that the record names.')];
  });
}

function reportProblems(files: BundleFiles, record: Uint8Array, { sha256 }: BundleTools): Problem[] {
  const report = files.get(BUNDLE.report);
  if (report === undefined || includes(report, sha256(record))) return [];
  return [problem('report-names-another-record', BUNDLE.report, 'The report was not printed from this record.')];
}

function includes(bytes: Uint8Array, ascii: string): boolean {
  return new TextDecoder('latin1').decode(bytes).includes(ascii);
}

function isCanonical(json: unknown, text: string): boolean {
  try {
    return canonicalJson(json) === text;
  } catch {
    return false;
  }
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
