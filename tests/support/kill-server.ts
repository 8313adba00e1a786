import { createHash, randomUUID } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import SqliteFile from 'better-sqlite3';
import sharp from 'sharp';
import { randomStream } from '../../fixtures/index.ts';
import { openSqliteLedger } from '../../server/adapters/database/sqlite-ledger.ts';
import { startOwnServer } from './own-server.ts';
import type { OwnServer } from './own-server.ts';

export interface KillReport {
  readonly kills: number;
  readonly photosAcknowledged: number;
  readonly roundsAcknowledged: number;
  readonly assessmentsAcknowledged: number;
  /** Everything that is not as it must be, as sentences; empty when all is well. */
  readonly complaints: readonly string[];
}

interface Acknowledged {
  /** SHA-256 by id. */
  readonly photos: Map<string, string>;
  readonly rounds: Set<string>;
  readonly assessments: Set<string>;
}

const ENVIRONMENT = { BAREPLATE_DEMO: 'none', BAREPLATE_WORKERS: '1' };
const PHONES = 2;
/** From the first new round to the death, ms: from the first upload to the middle of an analysis. */
const LONGEST_LIFE_MS = 3000;

/**
 * Kills a server of its own process again and again while phones upload and analyses run, starts it anew each time, and at
 * the end looks whether anything is missing, unfinished or left over.
 */
export async function killServerRepeatedly(kills: number, seed: number): Promise<KillReport> {
  const acknowledged: Acknowledged = { photos: new Map(), rounds: new Set(), assessments: new Set() };
  const random = randomStream(seed);
  let server = await startOwnServer(ENVIRONMENT);
  const { folder, cookie } = server;
  try {
    const zoneId = await server.makeZone();
    for (let kill = 0; kill < kills; kill++) {
      const phones = new AbortController();
      const work = Array.from({ length: PHONES }, () => usePhone(server, { zoneId, acknowledged }, phones.signal));
      await firstNewRound(acknowledged);
      await pause(random.next() * LONGEST_LIFE_MS);
      await server.kill();
      phones.abort();
      await Promise.all(work);
      server = await startOwnServer(ENVIRONMENT, { folder, cookie });
    }
    const complaints = await complaintsOf(server, acknowledged);
    await server.end();
    complaints.push(...(await complaintsOfFolder(folder)));
    return {
      kills,
      photosAcknowledged: acknowledged.photos.size,
      roundsAcknowledged: acknowledged.rounds.size,
      assessmentsAcknowledged: acknowledged.assessments.size,
      complaints,
    };
  } finally {
    await server.stop();
  }
}

/** Kills in an idle moment would prove little. */
async function firstNewRound({ rounds }: Acknowledged): Promise<void> {
  const before = rounds.size;
  while (rounds.size === before) await pause(10);
}

/** Rounds, photos and analyses without end; notes what the server has acknowledged. */
async function usePhone(
  server: OwnServer,
  { zoneId, acknowledged }: { zoneId: string; acknowledged: Acknowledged },
  signal: AbortSignal,
): Promise<void> {
  while (!signal.aborted) {
    try {
      const [roundId, assessmentId] = [randomUUID(), randomUUID()];
      await server.call('POST', `/api/zones/${zoneId}/rounds`, { id: roundId });
      acknowledged.rounds.add(roundId);
      const bytes = await noisyPhoto();
      const uploadId = await server.upload(bytes, Math.ceil(bytes.byteLength / 2));
      const round = await server.call('PUT', `/api/rounds/${roundId}/photos/after`, { source: { uploadId } });
      const after = round['after'] as { photo: { id: string } };
      acknowledged.photos.set(after.photo.id, sha256Of(bytes));
      await server.call('POST', `/api/rounds/${roundId}/assessments`, { id: assessmentId });
      acknowledged.assessments.add(assessmentId);
      await pause(100);
    } catch {
      // The server died under this request: nothing was acknowledged. The phone goes on.
      await pause(20);
    }
  }
}

const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** A photo that decodes, of which there is no second. */
const noisyPhoto = (): Promise<Buffer> =>
  sharp({
    create: {
      width: 800,
      height: 600,
      channels: 3,
      background: '#8a5a40',
      noise: { type: 'gaussian', mean: 120, sigma: 30 },
    },
  })
    .jpeg({ quality: 90 })
    .toBuffer();

/** How long the last analyses may take after the last start, ms. */
const PATIENCE_MS = 180_000;

async function complaintsOf(server: OwnServer, acknowledged: Acknowledged): Promise<string[]> {
  const complaints: string[] = [];
  for (const id of acknowledged.rounds) {
    if ((await server.fetch(`/api/rounds/${id}`)).status !== 200) complaints.push(`round ${id} is lost`);
  }
  for (const [id, sha256] of acknowledged.photos) {
    const response = await server.fetch(`/api/photos/${id}/original`);
    const found = sha256Of(new Uint8Array(await response.arrayBuffer()));
    if (found !== sha256) complaints.push(`photo ${id} is lost or altered`);
  }
  const deadline = Date.now() + PATIENCE_MS;
  for (const id of acknowledged.assessments) {
    const state = await endStateOf(server, id, deadline);
    if (state !== 'done') complaints.push(`assessment ${id} is ${state}`);
  }
  return complaints;
}

async function endStateOf(server: OwnServer, id: string, deadline: number): Promise<string> {
  for (;;) {
    const response = await server.fetch(`/api/assessments/${id}`);
    const { state } = (await response.json()) as { state?: string };
    if (state === 'done' || state === 'failed' || Date.now() > deadline) return state ?? 'lost';
    await pause(200);
  }
}

/** What the data folder itself says once nobody uses it. */
async function complaintsOfFolder(folder: string): Promise<string[]> {
  const complaints = complaintsOfDatabase(join(folder, 'ledger.db'));
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
