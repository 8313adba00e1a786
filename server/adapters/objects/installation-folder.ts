import { randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { copyLedger, noteInLedger } from '../database/copy-ledger.ts';
import type { DataFolder, FreshFolder } from '../../services/backup-ports.ts';
import { readAuditHeads, writeAuditHead } from '../security/audit-head-file.ts';
import { sealKeyFrom } from '../security/ed25519-key.ts';
import { objectName } from '../../services/object-name.ts';
import { writeSafely } from './write-safely.ts';

const OWNER_ONLY = 0o600;

export function installationFolder(folder: string, now: () => string): DataFolder {
  const ledger = join(folder, 'ledger.db');
  return {
    async snapshot() {
      const copy = join(tmpdir(), `bareplate-snapshot-${randomUUID()}.db`);
      const namedObjects = await copyLedger(ledger, copy);
      return {
        namedObjects,
        read: () => readFile(copy),
        async remove() {
          for (const ending of ['', '-wal', '-shm']) await rm(`${copy}${ending}`, { force: true });
        },
      };
    },
    readObject: (sha256) => readOrNull(join(folder, objectName(sha256))),
    readSealKey: () => readOrNull(join(folder, 'seal-key.pem')),
    readAuditHeads: () => readAuditHeads(folder),
    async note(act, details) {
      const head = noteInLedger(ledger, { at: now(), by: null, act, subject: 'data:folder', details });
      const key = await readOrNull(join(folder, 'seal-key.pem'));
      if (key !== null) await writeAuditHead(folder, sealKeyFrom(Buffer.from(key).toString('utf8')), head);
    },
  };
}

async function readOrNull(path: string): Promise<Uint8Array | null> {
  try {
    return await readFile(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/** An absent or empty folder, ready to be filled; null for one that holds anything. */
export async function freshFolder(folder: string): Promise<FreshFolder | null> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  if ((await readdir(folder)).length > 0) return null;
  return {
    async write(name, bytes) {
      const path = join(folder, name);
      if (name.startsWith('objects/')) await writeSafely(path, bytes);
      else await writeFile(path, bytes, { mode: OWNER_ONLY, flush: true });
    },
    async giveUp() {
      for (const name of await readdir(folder)) await rm(join(folder, name), { recursive: true, force: true });
    },
  };
}
