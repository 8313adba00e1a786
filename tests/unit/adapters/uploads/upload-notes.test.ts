import { mkdtemp, readdir, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Upload } from '@tus/server';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { isUploadId, sweepUploads, uploadNotes } from '../../../../server/adapters/uploads/upload-notes.ts';

const ID = 'a'.repeat(32);
const OTHER = 'b'.repeat(32);

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-notes-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const upload = (id: string): Upload =>
  new Upload({ id, size: 10, offset: 0, metadata: { owner: 'p', filename: 'x.jpg' }, creation_date: '2026-05-01' });

describe('notes of uploads', () => {
  it('are read as they were written, and gone once deleted', async () => {
    const notes = uploadNotes(folder);
    await notes.set(ID, upload(ID));
    expect(await notes.get(ID)).toMatchObject({ id: ID, size: 10, metadata: { owner: 'p', filename: 'x.jpg' } });
    await notes.delete(ID);
    expect(await notes.get(ID)).toBeUndefined();
    expect(await readdir(folder)).toEqual([]);
  });

  it('are never looked for under a name that is no id', async () => {
    const notes = uploadNotes(folder);
    for (const id of ['../ledger', 'A'.repeat(32), '', `${ID}/..`]) {
      expect(isUploadId(id)).toBe(false);
      expect(await notes.get(id)).toBeUndefined();
    }
  });
});

describe('sweeping uploads', () => {
  it('removes bytes without a note and what nobody went on with, and keeps the rest', async () => {
    const notes = uploadNotes(folder);
    for (const id of [ID, OTHER]) {
      await notes.set(id, upload(id));
      await writeFile(join(folder, id), 'bytes');
    }
    await writeFile(join(folder, 'c'.repeat(32)), 'without a note');
    for (const name of [ID, `${ID}.json`]) await utimes(join(folder, name), new Date(0), new Date(0));
    expect(await sweepUploads(folder, 1000)).toBe(3);
    expect((await readdir(folder)).sort()).toEqual([OTHER, `${OTHER}.json`]);
  });

  it('keeps an old note whose bytes are still arriving', async () => {
    await uploadNotes(folder).set(ID, upload(ID));
    await writeFile(join(folder, ID), 'bytes');
    await utimes(join(folder, `${ID}.json`), new Date(0), new Date(0));
    expect(await sweepUploads(folder, 1000)).toBe(0);
  });
});
