import type { Problem, Verification } from '../../domain/index.ts';
import type { Sha256 } from '../ports.ts';
import { BUNDLE } from './bundle-names.ts';
import { checkFiles, decode, problem } from './check-files.ts';
import type { BundleTools } from './check-files.ts';
import { checkRecord } from './check-record.ts';
import type { BundleFiles } from './manifest.ts';

export interface BundleQuestion {
  readonly files: BundleFiles;
  /** What is already known to be wrong with the archive. */
  readonly archiveProblems: readonly Problem[];
  /** Fingerprint that the reader got from the shop by another way; null when there is none. */
  readonly knownFingerprint: string | null;
}

/** Checks the files of a bundle against its list, the list and the record against their signatures, and the key. */
export function checkBundle(question: BundleQuestion, given: BundleTools): Verification {
  const tools = { ...given, sha256: hashOnce(given.sha256) };
  const { files, archiveProblems, knownFingerprint } = question;
  const key = checkKey(files, knownFingerprint, tools);
  const fileProblems = checkFiles(files, tools);
  const altered = new Set(fileProblems.map(({ path }) => path));
  const { record, problems: recordProblems } = checkRecord(files, altered, tools);
  const problems = withoutDoubles([...archiveProblems, ...fileProblems, ...key.problems, ...recordProblems]);
  const bad = new Set(problems.map(({ path }) => path));
  const recordBytes = files.get(BUNDLE.record);
  return {
    schema: 'bareplate/verification@1',
    holds: problems.length === 0,
    problems,
    files: [...files].map(([path, bytes]) => ({
      path,
      sizeBytes: bytes.length,
      sha256: tools.sha256(bytes),
      holds: !bad.has(path),
    })),
    record:
      record === null || record.decision === null || recordBytes === undefined
        ? null
        : {
            id: record.id,
            sha256: tools.sha256(recordBytes),
            verdict: record.decision.verdict,
            signerName: record.decision.signer.name,
            signerRole: record.decision.signer.role,
            signedAt: record.decision.signedAt,
            isInvented: record.isInvented,
            auditHead: record.decision.auditHead,
          },
    key: key.fingerprint === null ? null : { fingerprint: key.fingerprint, isKnown: knownFingerprint !== null },
    timeStamp: null,
    remarks: remarksOn(knownFingerprint),
  };
}

function checkKey(
  files: BundleFiles,
  known: string | null,
  { signatures }: BundleTools,
): { fingerprint: string | null; problems: Problem[] } {
  const pem = files.get(BUNDLE.publicKey);
  if (pem === undefined) return { fingerprint: null, problems: [] };
  const fingerprint = signatures.fingerprint(decode(pem));
  if (fingerprint === null) {
    const message = 'The file holds no Ed25519 public key, so no signature can be checked.';
    return { fingerprint, problems: [problem('key-unreadable', BUNDLE.publicKey, message)] };
  }
  if (known === null || normalise(known) === fingerprint) return { fingerprint, problems: [] };
  const message = `The key's fingerprint is ${fingerprint}, not the expected one: somebody else signed this bundle.`;
  return { fingerprint, problems: [problem('key-not-trusted', BUNDLE.publicKey, message)] };
}

const normalise = (fingerprint: string): string => fingerprint.replace(/[\s:]/g, '').toLowerCase();

/** Photos are large, and several checks ask for the hash of the same bytes. */
function hashOnce(sha256: Sha256): Sha256 {
  const known = new WeakMap<Uint8Array, string>();
  return (bytes) => {
    const hash = known.get(bytes) ?? sha256(bytes);
    known.set(bytes, hash);
    return hash;
  };
}

/** The same sentence about the same file is said once. */
function withoutDoubles(problems: readonly Problem[]): Problem[] {
  return [...new Map(problems.map((p) => [`${p.code} ${p.path} ${p.message}`, p])).values()];
}

function remarksOn(known: string | null): string[] {
  if (known !== null) return [];
  return [
    'The key was taken from the bundle itself. Compare its fingerprint with the one that the shop gives by another way.',
  ];
}
