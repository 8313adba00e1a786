import { spawnSync } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { tarReader } from '../../server/adapters/archive/tar-reader.ts';
import { startOwnServer } from '../support/own-server.ts';
import type { OwnServer } from '../support/own-server.ts';
import { runCommand } from '../support/run-command.ts';
import { smallPhoto } from '../support/teasel-round.ts';

let root: string;
let backup: string;
let restored: string;
let server: Awaited<ReturnType<typeof startOwnServer>>;
/** Names of jobs that were acknowledged before the backup began, and of all. */
let acknowledgedBefore: readonly string[];
let made: string[];

/** Jobs, zones and photos without a pause, until told to stop. */
function loadOn(work: OwnServer, warm: number): { readonly isWarm: Promise<void>; stop(): Promise<void> } {
  let isOn = true;
  let tellWarm: () => void;
  const isWarm = new Promise<void>((resolve) => {
    tellWarm = resolve;
  });
  const hand = async (number: number): Promise<void> => {
    for (let turn = 0; isOn; turn++) {
      const name = `Load ${number}-${turn}`;
      const job = await work.call('POST', '/api/jobs', { name });
      const zone = await work.call('POST', `/api/jobs/${String(job['id'])}/zones`, { name: 'Deck frame' });
      const round = await work.call('POST', `/api/zones/${String(zone['id'])}/rounds`, {});
      const uploadId = await work.upload(await smallPhoto((turn % 6) + 1), 1e6);
      await work.call('PUT', `/api/rounds/${String(round['id'])}/photos/after`, { source: { uploadId } });
      made.push(name);
      if (made.length >= warm) tellWarm();
    }
  };
  const hands = [1, 2].map(hand);
  return {
    isWarm,
    async stop() {
      isOn = false;
      await Promise.all(hands);
    },
  };
}

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'bareplate-backup-'));
  [backup, restored] = [join(root, 'backup.tar'), join(root, 'restored')];
  server = await startOwnServer({ BAREPLATE_DEMO: 'none' });
  made = [];
  const load = loadOn(server, 9);
  await load.isWarm;
  acknowledgedBefore = [...made];
  const written = await runCommand('backup', '--data', server.folder, '--out', backup);
  expect([written.exitCode, written.stderr]).toEqual([0, '']);
  await load.stop();
}, 120_000);
afterAll(async () => {
  await server.stop();
  await rm(root, { recursive: true, force: true });
});

type Rows = Readonly<Record<string, unknown[]>>;
async function rowsOf(bytes: Uint8Array): Promise<Rows> {
  const path = join(root, 'rows.db');
  await writeFile(path, bytes);
  const file = new SqliteFile(path, { readonly: true });
  const tables = file
    .prepare("select name from sqlite_master where type = 'table' order by name")
    .pluck()
    .all() as string[];
  const rows = Object.fromEntries(tables.map((name) => [name, file.prepare(`select * from "${name}"`).all()]));
  file.close();
  return rows;
}

describe('a backup that was taken while the server worked', () => {
  it('restores to the same ledger, and all of it holds', async () => {
    const restoring = await runCommand('restore', '--in', backup, '--data', restored);
    expect([restoring.exitCode, restoring.stderr.trim()]).toEqual([0, 'All holds.']);
    let kept: Uint8Array | null = null;
    for await (const reading of tarReader(backup).files()) {
      if (reading.ok && reading.value.name === 'ledger.db') kept = reading.value.bytes;
    }
    const before = await rowsOf(kept ?? new Uint8Array());
    const after = await rowsOf(await readFile(join(restored, 'ledger.db')));
    const { audit_log: log, ...others } = after;
    expect(others).toEqual(Object.fromEntries(Object.entries(before).filter(([name]) => name !== 'audit_log')));
    // The restoring itself is the one row more.
    expect(log.slice(0, -1)).toEqual(before['audit_log']);
    expect(JSON.stringify(log.at(-1))).toContain('restored');
    expect(JSON.stringify(before['audit_log'].at(-1))).not.toContain('restored');
    const names = (before['jobs'] as { name: string }[]).map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining([...acknowledgedBefore]));
    expect(names.length).toBeLessThanOrEqual(made.length + 2);
  }, 60_000);

  it('unpacks and checks with common tools alone', async () => {
    const folder = await mkdtemp(join(root, 'by-hand-'));
    const unpacked = spawnSync('tar', ['-xf', backup, '-C', folder], { encoding: 'utf8' });
    expect([unpacked.status, unpacked.stderr]).toEqual([0, '']);
    const checked = spawnSync('sha256sum', ['--check', '--strict', '--quiet', 'manifest.sha256'], { cwd: folder });
    expect(checked.status).toBe(0);
  });

  it('is what a server starts on again, with the same people', async () => {
    const again = await startOwnServer({ BAREPLATE_DEMO: 'none' }, { folder: restored, cookie: server.cookie });
    const { person } = await again.call('GET', '/api/session');
    expect(person).toMatchObject({ role: 'administrator' });
    const audit = await again.call('GET', '/api/audit/check');
    expect(audit).toMatchObject({ holds: true });
    await again.end();
  }, 60_000);

  it('did not hinder the server, whose own folder holds as well', async () => {
    await server.end();
    const checking = await runCommand('check', '--data', server.folder);
    expect([checking.exitCode, checking.stderr.trim()]).toEqual([0, 'All holds.']);
  }, 60_000);

  it('is refused when a byte of it was changed, and leaves nothing behind', async () => {
    const bytes = await readFile(backup);
    const at = bytes.indexOf('objects/');
    const broken = join(root, 'broken.tar');
    for (const place of [600, at, at + 700, bytes.lastIndexOf('manifest.sha256') + 520]) {
      const copy = Buffer.from(bytes);
      copy.writeUInt8(copy.readUInt8(place) ^ 4, place);
      await writeFile(broken, copy);
      const folder = join(root, `from-broken-${place}`);
      const refused = await runCommand('restore', '--in', broken, '--data', folder);
      expect([place, refused.exitCode]).toEqual([place, 3]);
      expect(refused.stderr).toContain('The backup cannot be used');
      expect(await readdir(folder)).toEqual([]);
    }
    const cut = join(root, 'cut.tar');
    await writeFile(cut, bytes.subarray(0, bytes.length - 3000));
    expect((await runCommand('restore', '--in', cut, '--data', join(root, 'from-cut'))).exitCode).toBe(3);
    expect((await runCommand('restore', '--in', backup, '--data', restored)).stderr).toContain('is not empty');
  }, 120_000);
});
