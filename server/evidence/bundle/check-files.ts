import type { Problem } from '../../domain/index.ts';
import type { Sha256, SignatureCheck } from '../ports.ts';
import { BUNDLE } from './bundle-names.ts';
import { readManifest, writeManifest } from './manifest.ts';
import type { BundleFiles } from './manifest.ts';

export interface BundleTools {
  readonly sha256: Sha256;
  readonly signatures: SignatureCheck;
}

/**
 * Compares files with the signed list and names those that differ. Where the list's signature fails, the list is written
 * anew from the files: if the signature fits that one, only the list was altered.
 */
export function checkFiles(files: BundleFiles, tools: BundleTools): Problem[] {
  const manifest = files.get(BUNDLE.manifest);
  const signature = files.get(BUNDLE.manifestSignature);
  const missing = Object.values(BUNDLE)
    .filter((path) => path !== BUNDLE.timeStamp && !files.has(path))
    .map((path) => problem('file-missing', path, 'The file is missing.'));
  if (manifest === undefined) return missing;
  const pem = decode(files.get(BUNDLE.publicKey));
  const holds = (bytes: Uint8Array): boolean =>
    signature !== undefined && tools.signatures.holds(pem, bytes, signature);
  const asListed = decode(manifest);
  if (holds(manifest)) return [...missing, ...differences(files, asListed, tools.sha256)];
  if (holds(new TextEncoder().encode(writeManifest(files, tools.sha256)))) {
    return [
      ...missing,
      problem('manifest-altered', BUNDLE.manifest, 'The list of files was altered; the files were not.'),
    ];
  }
  const wrong = problem(
    'manifest-signature-wrong',
    BUNDLE.manifestSignature,
    'The signature does not belong to the list of files.',
  );
  const others = differences(files, asListed, tools.sha256);
  // An altered key fits no signature, and is named already. With all files as listed, either the signature was altered, or
  // list and files together by somebody without the key.
  const isExplained = signature === undefined || others.some(({ path }) => path === BUNDLE.publicKey);
  return isExplained ? [...missing, ...others] : [...missing, ...others, wrong];
}

function differences(files: BundleFiles, manifest: string, sha256: Sha256): Problem[] {
  const listed = readManifest(manifest);
  const problems: Problem[] = [];
  for (const [path, hash] of listed) {
    const bytes = files.get(path);
    if (bytes === undefined) {
      problems.push(problem('file-missing', path, 'The list names this file, but it is missing.'));
    } else if (sha256(bytes) !== hash) {
      problems.push(problem('file-altered', path, 'The file was altered: its SHA-256 is not the one in the list.'));
    }
  }
  for (const path of files.keys()) {
    const isOwn = path === BUNDLE.manifest || path === BUNDLE.manifestSignature;
    if (!isOwn && !listed.has(path)) {
      problems.push(problem('file-not-listed', path, 'The list does not name this file.'));
    }
  }
  return problems;
}

export const problem = (code: Problem['code'], path: string, message: string): Problem => ({ code, path, message });
export const decode = (bytes: Uint8Array | undefined): string => new TextDecoder('utf-8').decode(bytes);
