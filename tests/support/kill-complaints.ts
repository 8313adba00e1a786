import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import SqliteFile from 'better-sqlite3';
import { openSqliteLedger } from '../../server/adapters/database/sqlite-ledger.ts';
import type { OwnServer } from './own-server.ts';

const PROGRAM = fileURLToPath(new URL('../../server/cli/bareplate.mjs', import.meta.url));
const runFile = promisify(execFile);

/** What a server said that it has. */
export interface Acknowledged {
  /** SHA-256 by id. */
  readonly photos: Map<string, string>;
  readonly rounds: Set<string>;
  readonly assessments: Set<string>;
}

/** One analysis of a small photo takes seconds; when none ends for this long, the rest never will. */
const PATIENCE_MS = 120_000;

export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

export async function stateOf(server: OwnServer, assessmentId: string): Promise<string> {
  const response = await server.fetch(`/api/assessments/${assessmentId}`);
  return ((await response.json()) as { state?: string }).state ?? 'lost';
}

/** Everything acknowledged that is missing or unfinished, and, once the server has ended, everything left over in its folder. */
export async function complaintsAfterKills(server: OwnServer, acknowledged: Acknowledged): Promise<string[]> {
  const complaints = [...(await missing(server, acknowledged)), ...(await unfinished(server, acknowledged))];
  await server.end();
  complaints.push(...complaintsOfDatabase(join(server.folder, 'ledger.db')));
  complaints.push(...(await complaintsOfObjects(server.folder)));
  complaints.push(...(await complaintsOfUploads(server.folder)));
  complaints.push(...(await complaintsOfCheck(server.folder)));
  return complaints;
}

async function missing(server: OwnServer, { rounds, photos }: Acknowledged): Promise<string[]> {
  const complaints: string[] = [];
  for (const id of rounds) {
    if ((await server.fetch(`/api/rounds/${id}`)).status !== 200) complaints.push(`round ${id} is lost`);
  }
  for (const [id, sha256] of photos) {
    const response = await server.fetch(`/api/photos/${id}/original`);
    const found = sha256Of(new Uint8Array(await response.arrayBuffer()));
    if (found !== sha256) complaints.push(`photo ${id} is lost or altered`);
  }
  return complaints;
}

/** Patience begins anew whenever an assessment ends: how long all of them take depends on how many wait. */
async function unfinished(server: OwnServer, { assessments }: Acknowledged): Promise<string[]> {
  const complaints: string[] = [];
  let lastEnded = Date.now();
  for (const id of assessments) {
    for (;;) {
      const state = await stateOf(server, id);
      if (state === 'done') lastEnded = Date.now();
      else if (state === 'failed' || state === 'lost' || Date.now() - lastEnded > PATIENCE_MS) {
        complaints.push(`assessment ${id} is ${state}`);
      } else {
        await pause(200);
        continue;
      }
      break;
    }
  }
  return complaints;
}

function complaintsOfDatabase(path: string): string[] {
  const complaints: string[] = [];
  const db = new SqliteFile(path);
  const check = db.pragma('integrity_check', { simple: true });
  if (check !== 'ok') complaints.push(`the database is damaged: ${String(check)}`);
  const loose = db.pragma('foreign_key_check') as unknown[];
  if (loose.length > 0) complaints.push(`${loose.length} rows point nowhere`);
  const owed = db.prepare('select count(*) as count from queue').get() as { count: number };
  if (owed.count > 0) complaints.push(`${owed.count} items are left in the queue`);
  db.close();
  return complaints;
}

/** Every file of the store is whole and named by a row, and every name has its file. */
async function complaintsOfObjects(folder: string): Promise<string[]> {
  const complaints: string[] = [];
  const ledger = await openSqliteLedger(join(folder, 'ledger.db'));
  const named = new Set(await ledger.namedObjects());
  await ledger.close();
  for (const entry of await readdir(join(folder, 'objects'), { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const sha256 = sha256Of(await readFile(join(entry.parentPath, entry.name)));
    if (sha256 !== entry.name) complaints.push(`object ${entry.name} is half written`);
    else if (!named.delete(sha256)) complaints.push(`object ${entry.name} belongs to nothing`);
  }
  for (const sha256 of named) complaints.push(`object ${sha256} is missing`);
  return complaints;
}

/** What was never finished may wait for its phone, bytes and note together; nothing else lies about. */
async function complaintsOfUploads(folder: string): Promise<string[]> {
  const names = new Set(await readdir(join(folder, 'uploads')));
  return [...names]
    .filter((name) => !names.has(name.endsWith('.json') ? name.slice(0, -'.json'.length) : `${name}.json`))
    .map((name) => `uploads/${name} has no partner`);
}

/** The command that follows every row, file, hash and seal. */
async function complaintsOfCheck(folder: string): Promise<string[]> {
  try {
    await runFile(process.execPath, [PROGRAM, 'check', '--data', folder]);
    return [];
  } catch (error) {
    return [`check: ${(error as { stderr?: string }).stderr ?? String(error)}`];
  }
}
