import { cp, mkdtemp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ZoneRecord } from '../../server/domain/api/records.ts';
import { checkInstallation } from '../../server/services/check-installation.ts';
import type { InstallationReport } from '../../server/services/check-installation.ts';
import { objectName } from '../../server/services/object-name.ts';
import { wireDataTools } from '../../server/wiring-server.ts';
import { runCommand } from '../support/run-command.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench } from '../support/server-bench.ts';
import { signedRecordOf, signerOf } from '../support/teasel-record.ts';

/** Flips over the rows of the audit log and over the photos, half of each. */
const FLIPS = 500;

const tools = wireDataTools();
let root: string;
let folder: string;
let recordId: string;

const check = async (): Promise<InstallationReport> => {
  const data = tools.openFolder(folder);
  const key = await data.readSealKey();
  const rows = tools.openRows(folder);
  try {
    return await checkInstallation(rows, data, {
      ...tools,
      ownFingerprint: key === null ? null : tools.fingerprintOf(key),
    });
  } finally {
    rows.close();
  }
};
const placesOf = ({ problems }: InstallationReport): string[] => problems.map(({ where }) => where);
const ledger = <T>(work: (file: InstanceType<typeof SqliteFile>) => T): T => {
  const file = new SqliteFile(join(folder, 'ledger.db'));
  try {
    return work(file);
  } finally {
    file.close();
  }
};
const photoHashes = (): string[] =>
  ledger((file) => file.prepare('select distinct sha256 from photos order by sha256').pluck().all() as string[]);
/** Does something to the folder, and undoes it. */
const meanwhile = async (path: string, change: (bytes: Buffer) => Buffer): Promise<InstallationReport> => {
  const bytes = await readFile(path);
  await writeFile(path, change(Buffer.from(bytes)));
  try {
    return await check();
  } finally {
    await writeFile(path, bytes);
  }
};
const flipped = (bytes: Buffer, at: number, bit: number): Buffer => {
  bytes.writeUInt8(bytes.readUInt8(at) ^ (1 << bit), at);
  return bytes;
};

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'bareplate-check-'));
  const at = join(root, 'at-work');
  const bench = await openBench({ folder: at });
  const [operator, inspector] = [await bench.as('operator'), await signerOf(bench)];
  recordId = (await signedRecordOf(operator, inspector)).id;
  await signedRecordOf(operator, inspector, 'rejected');
  await bench.stop();
  folder = join(root, 'data');
  await cp(at, folder, { recursive: true });
  // Leaves no stale copies of rows in pages that are not in use: a flip there changes nothing.
  ledger((file) => {
    file.pragma('journal_mode = DELETE');
    file.pragma('secure_delete = ON');
    file.exec('vacuum');
  });
}, 60_000);
afterAll(() => rm(root, { recursive: true, force: true }));

describe('checking a data folder', () => {
  it('finds nothing where nothing was changed', async () => {
    const report = await check();
    expect(report).toMatchObject({ holds: true, problems: [], checked: { signedRecords: 2, photos: 4 } });
    expect(report.checked.auditRows).toBeGreaterThan(10);
  });

  it(`detects and names each of ${FLIPS} random flips in rows of the audit log and in photos`, async () => {
    const random = seededRandom(20261124);
    const whole = (below: number): number => Math.floor(random() * below);
    const path = join(folder, 'ledger.db');
    const file = await readFile(path);
    const rows = ledger((db) => db.prepare('select sequence, entry_json as text from audit_log').all()) as {
      sequence: number;
      text: string;
    }[];
    const photos = photoHashes();
    const missed: string[] = [];
    for (let flip = 0; flip < FLIPS; flip++) {
      const bit = whole(8);
      if (flip % 2 === 0) {
        const { sequence, text } = rows[whole(rows.length)];
        const start = file.indexOf(text);
        expect([start > 0, file.lastIndexOf(text)]).toEqual([true, start]);
        const at = start + whole(Buffer.byteLength(text));
        const report = await meanwhile(path, (bytes) => flipped(bytes, at, bit));
        if (!placesOf(report).includes(`audit row ${sequence}`)) missed.push(`row ${sequence}, byte ${at}, bit ${bit}`);
      } else {
        const name = objectName(photos[whole(photos.length)]);
        let at = 0;
        const report = await meanwhile(join(folder, name), (bytes) => flipped(bytes, (at = whole(bytes.length)), bit));
        if (!placesOf(report).includes(name)) missed.push(`${name}, byte ${at}, bit ${bit}`);
      }
    }
    expect(missed).toEqual([]);
  }, 300_000);

  it('names a file that was removed, altered, or swapped with another one', async () => {
    const [first, second] = photoHashes().map((hash) => join(folder, objectName(hash)));
    const [firstName, secondName] = photoHashes().map(objectName);
    await rename(first, `${first}.away`);
    expect(await check()).toMatchObject({ holds: false, problems: [{ where: firstName }] });
    await rename(`${first}.away`, first);
    const longer = await meanwhile(first, (bytes) => Buffer.concat([bytes, Buffer.from('x')]));
    expect(placesOf(longer)).toEqual([firstName]);
    expect(longer.problems[0].message).toMatch(/was altered: photo ".*jpg"/);
    const [a, b] = [await readFile(first), await readFile(second)];
    await writeFile(first, b);
    await writeFile(second, a);
    const swapped = await check();
    expect(placesOf(swapped).sort()).toEqual([firstName, secondName].sort());
    expect(swapped.problems[0].message).toContain('holds another file');
    await writeFile(first, a);
    await writeFile(second, b);
    expect((await check()).holds).toBe(true);
  });

  /** Somebody with the database in hand, past the program and its triggers. */
  const forge = async (sql: string): Promise<string[]> => {
    const before = await readFile(join(folder, 'ledger.db'));
    ledger((file) => {
      for (const trigger of file
        .prepare("select name from sqlite_master where type = 'trigger'")
        .pluck()
        .all() as string[]) {
        file.exec(`drop trigger ${trigger}`);
      }
      file.pragma('foreign_keys = OFF');
      file.exec(sql);
      file.pragma('wal_checkpoint(TRUNCATE)');
    });
    const found = placesOf(await check());
    for (const name of await readdir(folder)) {
      if (name.startsWith('ledger.db-')) await rm(join(folder, name));
    }
    await writeFile(join(folder, 'ledger.db'), before);
    return found;
  };

  /** A server that works on the folder for a while. */
  const bench = async (work: (at: Bench) => Promise<void>): Promise<void> => {
    const at = await openBench({ folder });
    try {
      await work(at);
    } finally {
      await at.stop();
    }
    ledger((file) => file.pragma('journal_mode = DELETE'));
  };

  it('names rows that were altered, removed or put elsewhere, and the whole of a log that was cut', async () => {
    const record = `record ${recordId}`;
    expect(
      await forge(`update records set record_text = replace(record_text, 'Stern', 'Steam') where id = '${recordId}'`),
    ).toContain(record);
    expect(await forge(`update records set state = 'rejected' where id = '${recordId}'`)).toContain(record);
    expect(await forge(`delete from records where id = '${recordId}'`)).toContain(record);
    expect(await forge(`delete from record_files where record_id = '${recordId}' and path like 'card/%'`)).toContain(
      record,
    );
    expect(await forge('delete from audit_log where sequence = 5')).toContain('audit row 5');
    expect(await forge('delete from audit_log where sequence >= 6')).not.toEqual([]);
    const results = await forge("update assessment_results set result_json = replace(result_json, '0.08', '0.01')");
    expect(results.some((where) => where.startsWith('assessment '))).toBe(true);
    const photos = await forge('update photos set sha256 = (select min(sha256) from photos)');
    expect(photos.some((where) => where.startsWith('photo '))).toBe(true);
  });

  it('finds by itself rows that were cut off the end of the log, however few', async () => {
    const last = ledger((file) => file.prepare('select max(sequence) from audit_log').pluck().get()) as number;
    // The last rows are younger than the last signature: only the sealed head beside the ledger knows them.
    await bench(async (at) => {
      const other = await at.as('operator');
      await other.call('addJob', { body: { name: 'Deck frames' } });
      await other.call('addJob', { body: { name: 'Bulwark' } });
    });
    expect((await check()).checked.auditRows).toBeGreaterThan(last);
    expect((await check()).holds).toBe(true);
    const newest = ledger((file) => file.prepare('select max(sequence) from audit_log').pluck().get()) as number;
    expect(await forge(`delete from audit_log where sequence = ${newest}`)).toEqual([`audit row ${newest}`]);
    expect(await forge(`delete from audit_log where sequence > ${last}`)).toEqual([`audit row ${newest}`]);
    const head = join(folder, 'audit-head.json');
    for (const bit of [0, 3, 6]) {
      const altered = await meanwhile(head, (bytes) => flipped(bytes, Math.floor(bytes.length / 2), bit));
      expect(placesOf(altered)).toEqual(['audit-head.json']);
    }
    await rename(head, `${head}.away`);
    expect(placesOf(await check())).toEqual(['audit-head.json']);
    await rename(`${head}.away`, head);
  });

  it('goes on telling of a cut after a server has started on it', async () => {
    const before = await readFile(join(folder, 'ledger.db'));
    const headBefore = await readFile(join(folder, 'audit-head.json'));
    ledger((file) => {
      file.exec('drop trigger audit_log_is_never_removed');
      file.exec('delete from audit_log where sequence = (select max(sequence) from audit_log)');
    });
    let flaws: number[] = [];
    await bench(async (at) => {
      const administrator = await at.as('administrator');
      await administrator.call('addJob', { body: { name: 'Anchor locker' } });
      flaws = (await administrator.call('checkAuditLog')).body.flaws.map(({ sequence }) => sequence);
    });
    expect(flaws).toHaveLength(1);
    expect(placesOf(await check())).toEqual([`audit row ${flaws[0]}`]);
    await writeFile(join(folder, 'ledger.db'), before);
    await writeFile(join(folder, 'audit-head.json'), headBefore);
  });

  it('finds a whole older folder in the place of the present one by a bundle or by a row on paper', async () => {
    const [older, bundle] = [join(root, 'older'), join(root, 'record.zip')];
    await cp(folder, older, { recursive: true });
    let signed: ZoneRecord | null = null;
    await bench(async (at) => {
      const inspector = await signerOf(at);
      signed = await signedRecordOf(await at.as('operator'), inspector);
      const response = await inspector.fetch(`/api/records/${signed.id}/bundle.zip`);
      await writeFile(bundle, Buffer.from(await response.arrayBuffer()));
    });
    const last = ledger((file) =>
      file.prepare("select sequence, json_extract(entry_json, '$.hash') as hash from audit_log order by 1 desc").get(),
    ) as { sequence: number; hash: string };
    const row = `${last.sequence}:${last.hash.slice(0, 16)}`;
    const present = await runCommand('check', '--data', folder, '--against', bundle, '--row', row);
    expect([present.stderr.trim(), present.exitCode]).toEqual(['All holds.', 0]);
    expect((await runCommand('check', '--data', older)).exitCode).toBe(0);
    const put = await runCommand('check', '--data', older, '--against', bundle);
    expect(put.exitCode).toBe(3);
    expect(put.stderr).toMatch(/record\.zip: It knows row \d+ of the audit log, but the log ends at row \d+/);
    expect(put.stderr).toMatch(/It holds record-\S+ as it was signed, and that is not here/);
    const byPaper = await runCommand('check', '--data', older, '--row', row);
    expect([byPaper.exitCode, byPaper.stderr]).toEqual([3, expect.stringContaining('but the log ends at row')]);
    const [wrongRow, noRow] = [`3:${'0'.repeat(16)}`, '3:00'];
    expect((await runCommand('check', '--data', folder, '--row', wrongRow)).stderr).toContain('was written anew');
    expect((await runCommand('check', '--data', folder, '--row', noRow)).exitCode).toBe(2);
    const bytes = await readFile(bundle);
    await writeFile(bundle, flipped(bytes, bytes.length - 2000, 1));
    const broken = await runCommand('check', '--data', folder, '--against', bundle);
    expect([broken.exitCode, broken.stderr]).toEqual([3, expect.stringContaining('bears no witness')]);
  }, 60_000);

  it('misses the key when it is gone or another one', async () => {
    const path = join(folder, 'seal-key.pem');
    const broken = await meanwhile(path, () => Buffer.from('nothing'));
    expect(placesOf(broken)).toContain('seal-key.pem');
  });
});
