import type { Sha256 } from '../evidence/ports.ts';
import type { BackupWriter, DataFolder } from './backup-ports.ts';
import { objectName } from './object-name.ts';

export const BACKUP = { ledger: 'ledger.db', sealKey: 'seal-key.pem', manifest: 'manifest.sha256' } as const;

export interface BackupReport {
  readonly files: number;
  readonly bytes: number;
  /** Objects that a row names but that are gone, or are not what their name says. */
  readonly missing: readonly string[];
  readonly damaged: readonly string[];
}

/**
 * Copies the ledger as it stands at one moment, then every file that it names: files are named by their content and are not
 * removed within the hour, so they still are what the copy means. Laid out like the data folder, with a list that
 * `sha256sum --check` reads.
 */
export async function backUpInstallation(
  folder: DataFolder,
  writer: BackupWriter,
  { sha256 }: { readonly sha256: Sha256 },
): Promise<BackupReport> {
  await folder.note('backed up', {});
  const snapshot = await folder.snapshot();
  const lines: string[] = [];
  let bytes = 0;
  const add = async (name: string, content: Uint8Array): Promise<void> => {
    await writer.add(name, content);
    lines.push(`${sha256(content)}  ${name}\n`);
    bytes += content.byteLength;
  };
  try {
    await add(BACKUP.ledger, await snapshot.read());
    const key = await folder.readSealKey();
    if (key !== null) await add(BACKUP.sealKey, key);
    const [missing, damaged]: [string[], string[]] = [[], []];
    for (const hash of snapshot.namedObjects) {
      const content = await folder.readObject(hash);
      if (content === null) {
        missing.push(objectName(hash));
        continue;
      }
      if (sha256(content) !== hash) damaged.push(objectName(hash));
      await add(objectName(hash), content);
    }
    await writer.add(BACKUP.manifest, new TextEncoder().encode(lines.join('')));
    await writer.finish();
    return { files: lines.length, bytes, missing, damaged };
  } catch (error) {
    await writer.giveUp();
    throw error;
  } finally {
    await snapshot.remove();
  }
}
