import { failure, success } from '../../domain/index.ts';
import type { EvidenceFile, InspectionRecord, Outcome } from '../../domain/index.ts';
import { fromHexadecimal } from '../hexadecimal.ts';
import type { SealKey, Sha256 } from '../ports.ts';
import type { SealedRecord } from '../seal.ts';
import { BUNDLE } from './bundle-names.ts';
import { writeManifest } from './manifest.ts';
import type { BundleFiles } from './manifest.ts';
import { readMeText } from './read-me.ts';

export interface BundleParts {
  readonly record: InspectionRecord;
  readonly sealed: SealedRecord;
  readonly report: Uint8Array;
  /** Bytes of every file that the record names, by its path. */
  readonly evidence: BundleFiles;
  /** RFC 3161 reply over the record's signature. */
  readonly timeStamp: Uint8Array | null;
}

/** Every file that a record stands on, each path once. */
export function filesOfRecord(record: InspectionRecord): EvidenceFile[] {
  const photos = record.rounds.flatMap(({ before, after }) => (before === null ? [after] : [before, after]));
  const files = [
    ...photos.flatMap(({ file, classMap, correctedClassMap }) =>
      [file, classMap, correctedClassMap].filter((each) => each !== null),
    ),
    record.card.file,
  ];
  return [...new Map(files.map((file) => [file.path, file])).values()];
}

/** All files of the bundle in their order, the manifest and its signature last. A file that is not the one named is refused. */
export function gatherBundle(
  parts: BundleParts,
  { key, sha256 }: { readonly key: SealKey; readonly sha256: Sha256 },
): Outcome<BundleFiles> {
  const { record, sealed, report, evidence, timeStamp } = parts;
  const text = (words: string): Uint8Array => new TextEncoder().encode(words);
  const files = new Map<string, Uint8Array>([
    [BUNDLE.readMe, text(readMeText(record, sealed.seal, timeStamp !== null))],
    [BUNDLE.record, text(sealed.text)],
    [BUNDLE.recordSignature, fromHexadecimal(sealed.seal.signature)],
    [BUNDLE.publicKey, text(sealed.seal.publicKeyPem)],
    [BUNDLE.report, report],
  ]);
  if (timeStamp !== null) files.set(BUNDLE.timeStamp, timeStamp);
  for (const { path, sha256: expected } of filesOfRecord(record)) {
    const bytes = evidence.get(path);
    if (bytes === undefined) return failure({ code: 'record-file-differs', path, detail: 'it is missing' });
    if (sha256(bytes) !== expected) {
      return failure({ code: 'record-file-differs', path, detail: 'its SHA-256 is another one' });
    }
    files.set(path, bytes);
  }
  const manifest = text(writeManifest(files, sha256));
  files.set(BUNDLE.manifest, manifest);
  files.set(BUNDLE.manifestSignature, key.sign(manifest));
  return success(files);
}
