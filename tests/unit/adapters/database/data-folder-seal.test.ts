import { spawnSync } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sealDataFolder } from '../../../../server/adapters/database/data-folder-seal.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-seal-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('the seal of a data folder', () => {
  it('is given once, and again after it was released', async () => {
    const seal = await sealDataFolder(folder);
    expect(seal).not.toBeNull();
    expect(await sealDataFolder(folder)).toBeNull();
    seal?.release();
    const again = await sealDataFolder(folder);
    expect(again).not.toBeNull();
    again?.release();
  });

  it('stops a second server with a sentence and exit code 2', async () => {
    const seal = await sealDataFolder(folder);
    const second = spawnSync(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
      env: { PATH: process.env['PATH'], BAREPLATE_DATA_DIR: folder, BAREPLATE_PORT: '0' },
      encoding: 'utf8',
      timeout: 50_000,
    });
    expect(second.status).toBe(2);
    expect(second.stderr).toContain('in use by another process');
    seal?.release();
  });

  it('goes with the process however that ends', async () => {
    const script = `
      const { sealDataFolder } = await import('./server/adapters/database/data-folder-seal.ts');
      await sealDataFolder(${JSON.stringify(folder)});
      process.kill(process.pid, 'SIGKILL');`;
    const killed = spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
      timeout: 50_000,
    });
    expect(killed.signal).toBe('SIGKILL');
    const seal = await sealDataFolder(folder);
    expect(seal).not.toBeNull();
    seal?.release();
  });
});
