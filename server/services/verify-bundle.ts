import type { Problem, Verification } from '../domain/index.ts';
import { faultSentence } from '../domain/index.ts';
import { BUNDLE } from '../evidence/bundle/bundle-names.ts';
import { checkBundle } from '../evidence/bundle/check-bundle.ts';
import type { Sha256, SignatureCheck } from '../evidence/ports.ts';
import type { Archive, ReadArchive, TimeStamps, VerifyRequest } from './evidence-ports.ts';

export interface VerifyTools {
  readonly archive: Archive;
  readonly sha256: Sha256;
  readonly signatures: SignatureCheck;
  readonly timeStamps: TimeStamps;
}

/** Checks a bundle without any network and says exactly which file or part of the archive does not hold. */
export function verifyBundle(request: VerifyRequest, tools: VerifyTools): Verification {
  const findings = tools.archive.read(request.bundle).map((reading) => checkReading(reading, request, tools));
  // Where the archive can be read in two ways, the one that fits the signed list better is the one that was written.
  return findings.reduce((best, finding) => (finding.problems.length < best.problems.length ? finding : best));
}

function checkReading({ entries, flaws }: ReadArchive, request: VerifyRequest, tools: VerifyTools): Verification {
  const files = new Map(entries.map(({ path, bytes }) => [path, bytes]));
  const archiveProblems = flaws.map(({ path, detail }): Problem => ({
    code: 'archive-damaged',
    path,
    message: `In the archive, ${detail}.`,
  }));
  const { knownFingerprint } = request;
  const finding = checkBundle({ files, archiveProblems, knownFingerprint }, tools);
  const [reply, signature] = [files.get(BUNDLE.timeStamp), files.get(BUNDLE.recordSignature)];
  if (reply === undefined || signature === undefined) return finding;
  const stamp = tools.timeStamps.check(reply, signature, request.timeStampRoots);
  if (stamp.ok) return { ...finding, timeStamp: stamp.value };
  const wrong: Problem = { code: 'time-stamp-wrong', path: BUNDLE.timeStamp, message: faultSentence(stamp.fault) };
  return { ...finding, holds: false, problems: [...finding.problems, wrong] };
}
