import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { diskObjectStore } from '../../server/adapters/objects/disk-object-store.ts';
import type { ObjectStore } from '../../server/services/object-ports.ts';

interface Opened {
  readonly store: ObjectStore;
  /** Makes an object look as if it was put long ago. */
  age(sha256: string): Promise<void>;
  close(): Promise<void>;
}

const IMPLEMENTATIONS: Readonly<Record<string, () => Promise<Opened>>> = {
  'a folder': async () => {
    const folder = await mkdtemp(join(tmpdir(), 'bareplate-objects-'));
    return {
      store: await diskObjectStore(folder),
      age: (sha256) => utimes(join(folder, sha256.slice(0, 2), sha256), new Date(0), new Date(0)),
      close: () => rm(folder, { recursive: true, force: true }),
    };
  },
};

describe.each(Object.entries(IMPLEMENTATIONS))('an object store in %s', (_name, open) => {
  let opened: Opened;
  let store: ObjectStore;
  beforeEach(async () => {
    opened = await open();
    store = opened.store;
  });
  afterEach(() => opened.close());

  it('names a file by its bytes and gives them back', async () => {
    const bytes = Buffer.from('abc');
    const sha256 = await store.put(bytes);
    // FIPS 180-4, example of SHA-256 for "abc".
    expect(sha256).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(Buffer.from(await store.read(sha256))).toEqual(bytes);
    const opening = await store.open(sha256);
    expect(opening?.sizeBytes).toBe(3);
    expect(await opening?.stream.toArray()).toEqual([bytes]);
  });

  it('keeps equal files once, however many put them at the same time', async () => {
    const bytes = Buffer.alloc(100_000, 7);
    const names = await Promise.all(Array.from({ length: 8 }, () => store.put(bytes)));
    expect(new Set(names).size).toBe(1);
    expect(
      createHash('sha256')
        .update(await store.read(names[0]))
        .digest('hex'),
    ).toBe(names[0]);
  });

  it('has nothing under a name that was never put, and refuses what is no name', async () => {
    expect(await store.open('0'.repeat(64))).toBeNull();
    for (const name of ['../ledger.db', '', 'A'.repeat(64), '0'.repeat(63)]) {
      await expect(store.open(name)).rejects.toThrow('SHA-256');
    }
  });

  it('sweeps what no row names and nobody touched, and nothing else', async () => {
    const [named, old, fresh] = [
      await store.put(Buffer.from('named')),
      await store.put(Buffer.from('old')),
      await store.put(Buffer.from('fresh')),
    ];
    await opened.age(named);
    await opened.age(old);
    expect(await store.sweep(new Set([named]), 1000)).toBe(1);
    expect(await store.open(old)).toBeNull();
    for (const sha256 of [named, fresh]) expect(await store.open(sha256)).not.toBeNull();
  });

  it('does not sweep an old file that is put again', async () => {
    const sha256 = await store.put(Buffer.from('again'));
    await opened.age(sha256);
    await store.put(Buffer.from('again'));
    expect(await store.sweep(new Set(), 1000)).toBe(0);
  });
});

describe('an object store in a folder', () => {
  it('writes anew what a dead process left half written, and sweeps its remains', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'bareplate-objects-'));
    const sha256 = createHash('sha256').update('whole').digest('hex');
    await mkdir(join(folder, sha256.slice(0, 2)));
    await writeFile(join(folder, sha256.slice(0, 2), sha256), 'who');
    await writeFile(join(folder, sha256.slice(0, 2), 'x.unfinished'), 'w');
    const store = await diskObjectStore(folder);
    await store.put(Buffer.from('whole'));
    expect(Buffer.from(await store.read(sha256)).toString()).toBe('whole');
    await store.sweep(new Set([sha256]), Number.POSITIVE_INFINITY);
    expect(await readdir(join(folder, sha256.slice(0, 2)))).toEqual([sha256]);
    await rm(folder, { recursive: true, force: true });
  });
});
