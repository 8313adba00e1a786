import { readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Configstore } from '@tus/file-store';
import { z } from 'zod';
import { writeSafely } from '../objects/write-safely.ts';

const noteSchema = z.object({
  id: z.string(),
  size: z.number().optional(),
  offset: z.number(),
  metadata: z.record(z.string(), z.string().nullable()).optional(),
  creation_date: z.string().optional(),
});
type UploadNote = NonNullable<Awaited<ReturnType<Configstore['get']>>>;

const UPLOAD_ID = /^[0-9a-f]{32}$/;

/** Ids of uploads are made here; any other text names nothing. */
export const isUploadId = (text: string): boolean => UPLOAD_ID.test(text);

/** What is known of each upload, one JSON file beside its bytes, never half written. */
export function uploadNotes(folder: string): Configstore {
  const pathOf = (id: string): string => join(folder, `${id}.json`);
  return {
    async get(id) {
      if (!isUploadId(id)) return undefined;
      try {
        return noteSchema.parse(JSON.parse(await readFile(pathOf(id), 'utf8'))) as UploadNote;
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
        throw error;
      }
    },
    async set(id, upload) {
      const { size, offset, metadata, creation_date } = upload;
      await writeSafely(pathOf(id), JSON.stringify({ id, size, offset, metadata, creation_date }));
    },
    async delete(id) {
      if (isUploadId(id)) await rm(pathOf(id), { force: true });
    },
  };
}

/** Removes files of uploads that nobody touched since, and bytes without a note. Answers how many. */
export async function sweepUploads(folder: string, untouchedSince: number): Promise<number> {
  const names = new Set(await readdir(folder));
  let removed = 0;
  for (const name of names) {
    const isLoose = !name.endsWith('.json') && !names.has(`${name}.json`);
    const path = join(folder, name);
    const touchedAt = await lastTouched(join(folder, name.replace(/\.json$/, '')), path);
    if (!isLoose && touchedAt >= untouchedSince) continue;
    await rm(path, { force: true });
    removed++;
  }
  return removed;
}

async function lastTouched(...paths: readonly string[]): Promise<number> {
  let latest = 0;
  for (const path of paths) {
    try {
      latest = Math.max(latest, (await stat(path)).mtimeMs);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    }
  }
  return latest;
}
