import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import type { Sha256 } from '../evidence/ports.ts';
import { readManifest } from '../evidence/bundle/manifest.ts';
import { BACKUP } from './back-up-installation.ts';
import type { BackupReader, FreshFolder } from './backup-ports.ts';

/** Nothing else belongs into a backup; above all no name that climbs out of the folder. */
const PLAIN_NAME = /^(?:ledger\.db|seal-key\.pem|objects\/[0-9a-f]{2}\/[0-9a-f]{64})$/;

/** Unpacks a backup into an empty folder. A file that is not what the backup's own list says leaves nothing behind. */
export async function restoreInstallation(
  backup: BackupReader,
  folder: FreshFolder,
  { sha256 }: { readonly sha256: Sha256 },
): Promise<Outcome<{ readonly files: number }>> {
  const restoring = await unpack(backup, folder, sha256);
  if (!restoring.ok) await folder.giveUp();
  return restoring;
}

async function unpack(
  backup: BackupReader,
  folder: FreshFolder,
  sha256: Sha256,
): Promise<Outcome<{ readonly files: number }>> {
  const found = new Map<string, string>();
  let listed: Map<string, string> | null = null;
  for await (const reading of backup.files()) {
    if (!reading.ok) return reading;
    const { name, bytes } = reading.value;
    if (name === BACKUP.manifest) listed = readManifest(new TextDecoder().decode(bytes));
    else if (PLAIN_NAME.test(name)) {
      found.set(name, sha256(bytes));
      await folder.write(name, bytes);
    } else return failure({ code: 'backup-damaged', path: name, detail: 'no such file belongs into a backup' });
  }
  if (listed === null) return failure({ code: 'backup-damaged', path: BACKUP.manifest, detail: 'it is missing' });
  for (const [name, hash] of listed) {
    const detail = !found.has(name) ? 'it is missing' : 'its SHA-256 is not the one in the list';
    if (found.get(name) !== hash) return failure({ code: 'backup-damaged', path: name, detail });
  }
  const extra = [...found.keys()].find((name) => !listed.has(name));
  if (extra !== undefined) return failure({ code: 'backup-damaged', path: extra, detail: 'the list does not name it' });
  if (!found.has(BACKUP.ledger)) {
    return failure({ code: 'backup-damaged', path: BACKUP.ledger, detail: 'it is missing' });
  }
  return success({ files: found.size });
}
