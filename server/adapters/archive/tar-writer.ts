import { open, rename, rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { BackupWriter } from '../../services/backup-ports.ts';
import { flushFolder } from '../objects/write-safely.ts';
import { BLOCK, paddingOf, tarHeader } from './tar-format.ts';

const OWNER_ONLY = 0o600;

/** A tar file that common tools unpack; written aside and renamed when it is whole. A backup holds the private key. */
export async function tarWriter(path: string): Promise<BackupWriter> {
  const unfinished = `${path}.unfinished`;
  const file = await open(unfinished, 'w', OWNER_ONLY);
  return {
    async add(name, bytes) {
      await file.appendFile(tarHeader({ name, sizeBytes: bytes.byteLength }));
      await file.appendFile(bytes);
      await file.appendFile(new Uint8Array(paddingOf(bytes.byteLength)));
    },
    async finish() {
      await file.appendFile(new Uint8Array(2 * BLOCK));
      await file.sync();
      await file.close();
      await rename(unfinished, path);
      await flushFolder(dirname(resolve(path)));
    },
    async giveUp() {
      await file.close().catch(() => undefined);
      await rm(unfinished, { force: true });
    },
  };
}
