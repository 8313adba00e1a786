import { mkdtemp, readdir, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSealKey } from '../../../../server/adapters/security/seal-key-file.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-key-'));
});
afterEach(async () => {
  await rm(folder, { recursive: true });
});

describe('the key file', () => {
  it('is made once, readable by its owner alone, and read again ever after', async () => {
    const path = join(folder, 'keys', 'seal.pem');
    const first = await openSealKey(path);
    expect((await stat(path)).mode & 0o777).toBe(0o600);
    expect((await openSealKey(path)).fingerprint).toBe(first.fingerprint);
    expect(await readdir(join(folder, 'keys'))).toEqual(['seal.pem']);
  });

  it('is one key, also when two start at once', async () => {
    const path = join(folder, 'seal.pem');
    const keys = await Promise.all([openSealKey(path), openSealKey(path), openSealKey(path)]);
    expect(new Set(keys.map(({ fingerprint }) => fingerprint)).size).toBe(1);
  });

  it('is never replaced: a damaged one stops the start', async () => {
    const path = join(folder, 'seal.pem');
    await writeFile(path, 'damaged');
    await expect(openSealKey(path)).rejects.toThrow();
  });
});
