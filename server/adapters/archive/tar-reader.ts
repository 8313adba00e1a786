import { open } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';
import { failure, success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { BackupReader } from '../../services/backup-ports.ts';
import { BLOCK, paddingOf, readTarHeader } from './tar-format.ts';

/** Largest file of a backup that is read at once; a ledger or a photo stays far below. */
const MOST_FILE_BYTES = 2_000_000_000;

const damaged = (path: string, detail: string): Outcome<never> => failure({ code: 'backup-damaged', path, detail });

/** Reads a tar file from front to back. It must end as tar files end: one that was cut is told from a whole one. */
export const tarReader = (path: string): BackupReader => ({
  async *files() {
    const file = await open(path, 'r');
    try {
      for (let at = 0; ;) {
        const block = await readExactly(file, at, BLOCK);
        const header = block === null ? null : readTarHeader(block);
        if (header?.kind === 'end') return;
        if (header === null || header.kind !== 'file') {
          yield damaged(`byte ${at}`, 'the archive is cut off or its header is broken');
          return;
        }
        const { name, sizeBytes } = header.entry;
        const bytes = sizeBytes > MOST_FILE_BYTES ? null : await readExactly(file, at + BLOCK, sizeBytes);
        if (bytes === null) {
          yield damaged(name, 'it is cut off');
          return;
        }
        yield success({ name, bytes });
        at += BLOCK + sizeBytes + paddingOf(sizeBytes);
      }
    } finally {
      await file.close();
    }
  },
});

async function readExactly(file: FileHandle, at: number, length: number): Promise<Uint8Array | null> {
  const bytes = Buffer.alloc(length);
  let filled = 0;
  while (filled < length) {
    const { bytesRead } = await file.read(bytes, filled, length - filled, at + filled);
    if (bytesRead === 0) return null;
    filled += bytesRead;
  }
  return bytes;
}
