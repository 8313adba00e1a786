import { join } from 'node:path';
import { zipArchive } from './adapters/archive/zip-archive.ts';
import { sharpPhotoDecoder } from './adapters/image/sharp-photo-decoder.ts';
import { diskObjectStore } from './adapters/objects/disk-object-store.ts';
import { reportPrinter } from './adapters/report/inspection/report-printer.ts';
import { ed25519Check } from './adapters/security/ed25519-check.ts';
import { openSealKey } from './adapters/security/seal-key-file.ts';
import { sha256 } from './adapters/security/sha256.ts';
import { timeStamps } from './adapters/security/time-stamp/time-stamps.ts';
import type { BuildBundleTools } from './services/build-bundle.ts';
import { evidenceStore } from './services/evidence-store.ts';
import type { VerifyTools } from './services/verify-bundle.ts';

/** The key that seals this installation's records; lost, no further record can carry it. */
export const SEAL_KEY_FILE = 'seal-key.pem';

/** What the report thread works with: nothing that measures, so that it starts at once. @param folder data folder */
export async function wireReportTools(folder: string): Promise<BuildBundleTools & VerifyTools> {
  return {
    archive: zipArchive(),
    sha256,
    signatures: ed25519Check(),
    timeStamps: timeStamps(),
    printer: reportPrinter(sharpPhotoDecoder()),
    store: evidenceStore(await diskObjectStore(join(folder, 'objects'))),
    key: await openSealKey(join(folder, SEAL_KEY_FILE)),
  };
}
