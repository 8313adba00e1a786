import type { Sha256 } from '../ports.ts';
import { BUNDLE } from './bundle-names.ts';

/** Bytes of a bundle's files by their names. */
export type BundleFiles = ReadonlyMap<string, Uint8Array>;

const isListed = (path: string): boolean => path !== BUNDLE.manifest && path !== BUNDLE.manifestSignature;

/** The list that `sha256sum --check` reads: one line for each file but the list itself and its signature, by name. */
export function writeManifest(files: BundleFiles, sha256: Sha256): string {
  return [...files]
    .filter(([path]) => isListed(path))
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([path, bytes]) => `${sha256(bytes)}  ${path}\n`)
    .join('');
}

/** Hash by name; lines that are not of the list's form are left out. */
export function readManifest(text: string): Map<string, string> {
  const rows = [...text.matchAll(/^([0-9a-f]{64}) {2}(.+)$/gm)];
  return new Map(rows.map(([, hash, path]) => [path, hash]));
}
