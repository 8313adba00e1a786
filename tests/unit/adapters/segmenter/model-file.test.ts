import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readModelFile } from '../../../../server/adapters/segmenter/model-file.ts';
import type { FaultCode } from '../../../../server/domain/index.ts';

const BYTES = Buffer.from('not a network, but a file that a registry can name');
const SHA256 = createHash('sha256').update(BYTES).digest('hex');
let folder = '';

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-models-'));
  await mkdir(join(folder, 'classes', '1'), { recursive: true });
  await writeFile(join(folder, 'classes', '1', 'model.onnx'), BYTES);
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const registry = (sha256 = SHA256, chosen = 'classes/1'): string =>
  JSON.stringify({ default: chosen, models: { 'classes/1': { file: 'classes/1/model.onnx', sha256 } } });
const asUrl = (): URL => pathToFileURL(`${folder}/`);
async function faultWith(text: string | null): Promise<FaultCode | 'read'> {
  if (text !== null) await writeFile(join(folder, 'registry.json'), text);
  const outcome = await readModelFile(asUrl());
  return outcome.ok ? 'read' : outcome.fault.code;
}

describe('the file of the default model', () => {
  it('is read when it is the one that the registry was written for', async () => {
    await writeFile(join(folder, 'registry.json'), registry());
    const outcome = await readModelFile(asUrl());
    expect(outcome.ok && outcome.value.name).toBe('classes/1');
    expect(outcome.ok && Buffer.from(outcome.value.bytes).equals(BYTES)).toBe(true);
  });

  it('is refused when a single bit of it differs, with both hashes', async () => {
    const altered = Buffer.from(BYTES);
    altered[7] ^= 1;
    await writeFile(join(folder, 'classes', '1', 'model.onnx'), altered);
    await writeFile(join(folder, 'registry.json'), registry());
    expect(await readModelFile(asUrl())).toEqual({
      ok: false,
      fault: {
        code: 'model-altered',
        model: 'classes/1',
        expected: SHA256,
        found: createHash('sha256').update(altered).digest('hex'),
      },
    });
  });

  it('is missing when the file, the registry or the registry’s entry is', async () => {
    expect(await faultWith(null)).toBe('model-missing');
    expect(await faultWith(registry(SHA256, 'classes/2'))).toBe('model-missing');
    await rm(join(folder, 'classes'), { recursive: true });
    expect(await faultWith(registry())).toBe('model-missing');
  });

  it('is missing when the registry cannot be read as one', async () => {
    for (const text of ['', '{', '[]', '{"default": "classes/1"}', registry('abc')]) {
      expect(await faultWith(text)).toBe('model-missing');
    }
  });

  it('is not looked for among the properties that every object has', async () => {
    expect(await faultWith(registry(SHA256, 'constructor'))).toBe('model-missing');
    expect(await faultWith(registry(SHA256, '__proto__'))).toBe('model-missing');
  });
});
