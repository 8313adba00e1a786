import { randomUUID } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';

export const UNFINISHED_SUFFIX = '.unfinished';

/**
 * Writes a file so that it is either absent or whole, also after the power was cut: a file beside it is written and
 * flushed, then renamed over it, then the folder is flushed (common practice on journalling file systems).
 */
export async function writeSafely(path: string, bytes: Uint8Array | string): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  const unfinished = join(folder, `${randomUUID()}${UNFINISHED_SUFFIX}`);
  try {
    const file = await open(unfinished, 'wx');
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, path);
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
  await flushFolder(folder);
}

/** Makes names in a folder last. */
export async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
