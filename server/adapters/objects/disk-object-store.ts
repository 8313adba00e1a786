import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, readdir, readFile, rm, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import type { ObjectStore } from '../../services/object-ports.ts';
import { UNFINISHED_SUFFIX, writeSafely } from './write-safely.ts';

const SHA256 = /^[0-9a-f]{64}$/;

/** Objects as files `ab/abcdef...`, named by their own hash: nothing from outside ever becomes a path. */
export async function diskObjectStore(folder: string): Promise<ObjectStore> {
  await mkdir(folder, { recursive: true });
  const pathOf = (sha256: string): string => {
    if (!SHA256.test(sha256)) throw new Error('Expected a SHA-256 in lower-case hex as the name of an object');
    return join(folder, sha256.slice(0, 2), sha256);
  };
  return {
    async put(bytes) {
      const sha256 = createHash('sha256').update(bytes).digest('hex');
      const path = pathOf(sha256);
      if ((await sizeOf(path)) === bytes.byteLength) await touch(path);
      else await writeSafely(path, bytes);
      return sha256;
    },
    read: (sha256) => readFile(pathOf(sha256)),
    async open(sha256) {
      const path = pathOf(sha256);
      const sizeBytes = await sizeOf(path);
      return sizeBytes === null ? null : { sizeBytes, stream: createReadStream(path) };
    },
    sweep: (named, untouchedSince) => sweep(folder, named, untouchedSince),
  };
}

async function sizeOf(path: string): Promise<number | null> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/** Keeps a file that is put again from being swept before its row is written. */
async function touch(path: string): Promise<void> {
  const now = new Date();
  await utimes(path, now, now);
}

async function sweep(folder: string, named: ReadonlySet<string>, untouchedSince: number): Promise<number> {
  let removed = 0;
  for (const shelf of await readdir(folder, { withFileTypes: true })) {
    if (!shelf.isDirectory()) continue;
    for (const name of await readdir(join(folder, shelf.name))) {
      if (named.has(name) || !(SHA256.test(name) || name.endsWith(UNFINISHED_SUFFIX))) continue;
      const path = join(folder, shelf.name, name);
      if ((await stat(path)).mtimeMs >= untouchedSince) continue;
      await rm(path, { force: true });
      removed++;
    }
  }
  return removed;
}
