import { randomUUID } from 'node:crypto';
import { link, mkdir, open, readFile, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { SealKey } from '../../evidence/ports.ts';
import { newSealKeyPem, sealKeyFrom } from './ed25519-key.ts';

/**
 * The installation's key from its file, made on first use. A file that is there but cannot be read as a key is an error: a
 * new key beside it would make old seals look foreign.
 */
export async function openSealKey(path: string): Promise<SealKey> {
  const kept = await readIfPresent(path);
  if (kept !== null) return sealKeyFrom(kept);
  await createOnce(path, newSealKeyPem());
  return sealKeyFrom(await readFile(path, 'utf8'));
}

async function readIfPresent(path: string): Promise<string | null> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/** Whole or not at all, and never over another one: written aside, flushed, then linked into place. */
async function createOnce(path: string, pem: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const aside = `${path}.${randomUUID()}`;
  const file = await open(aside, 'wx', 0o600);
  try {
    await file.writeFile(pem);
    await file.sync();
  } finally {
    await file.close();
  }
  try {
    await link(aside, path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  } finally {
    await rm(aside, { force: true });
  }
}
