import { randomUUID } from 'node:crypto';
import { setTimeout as pause } from 'node:timers/promises';
import sharp from 'sharp';
import { randomStream } from '../../fixtures/index.ts';
import { complaintsAfterKills, sha256Of, stateOf } from './kill-complaints.ts';
import type { Acknowledged } from './kill-complaints.ts';
import { startOwnServer } from './own-server.ts';
import type { OwnServer, Phone } from './own-server.ts';

export interface KillReport {
  readonly kills: number;
  readonly photosAcknowledged: number;
  readonly roundsAcknowledged: number;
  readonly assessmentsAcknowledged: number;
  /** Analyses that a kill broke off and the next start took up again. */
  readonly analysesInterrupted: number;
  /** Uploads that a phone went on with after a kill, from where they stood. */
  readonly uploadsResumed: number;
  /** Assessments without an answer after the last kill. */
  readonly owedAfterLastKill: number;
  /** Everything that is not as it must be, as sentences; empty when all is well. */
  readonly complaints: readonly string[];
}

/** What a phone still knows after the server died. */
interface Pocket {
  /** A round whose photo is on its way. */
  begun: { readonly roundId: string; readonly bytes: Buffer; readonly uploadId: string } | null;
  /** Assessments that it has asked for and not seen the answer of, the oldest first. */
  readonly unanswered: string[];
  resumed: number;
}

interface Work {
  readonly zoneId: string;
  readonly acknowledged: Acknowledged;
  readonly pocket: Pocket;
}

const ENVIRONMENT = { BAREPLATE_DEMO: 'none', BAREPLATE_WORKERS: '1' };
const PHONES = 2;
/** A phone with this many open questions waits for an answer, as its operator does; the server is not out of work meanwhile. */
const MOST_UNANSWERED = 4;
/** From the first new round to the death, ms: from the first upload to the middle of an analysis. */
const LONGEST_LIFE_MS = 3000;
const UPLOAD_PARTS = 5;
const REST_MS = 60;

/**
 * Kills a server of its own process again and again while phones upload and analyses run, starts it anew each time, and at
 * the end looks whether anything is missing, unfinished or left over.
 */
export async function killServerRepeatedly(kills: number, seed: number): Promise<KillReport> {
  const acknowledged: Acknowledged = { photos: new Map(), rounds: new Set(), assessments: new Set() };
  const pockets = Array.from({ length: PHONES }, (): Pocket => ({ begun: null, unanswered: [], resumed: 0 }));
  const random = randomStream(seed);
  let analysesInterrupted = 0;
  let server = await startOwnServer(ENVIRONMENT);
  const { folder, cookie } = server;
  try {
    const zoneId = await server.makeZone();
    for (let kill = 0; kill < kills; kill++) {
      const phones = new AbortController();
      const work = pockets.map((pocket) => usePhone(server, { zoneId, acknowledged, pocket }, phones.signal));
      await firstNewRound(acknowledged);
      await pause(random.next() * LONGEST_LIFE_MS);
      await server.kill();
      phones.abort();
      await Promise.all(work);
      analysesInterrupted += interruptedBefore(server);
      server = await startOwnServer(ENVIRONMENT, { folder, cookie });
    }
    const owedAfterLastKill = await countOwed(server, acknowledged);
    const complaints = await complaintsAfterKills(server, acknowledged);
    return {
      kills,
      photosAcknowledged: acknowledged.photos.size,
      roundsAcknowledged: acknowledged.rounds.size,
      assessmentsAcknowledged: acknowledged.assessments.size,
      analysesInterrupted: analysesInterrupted + interruptedBefore(server),
      uploadsResumed: pockets.reduce((sum, { resumed }) => sum + resumed, 0),
      owedAfterLastKill,
      complaints,
    };
  } finally {
    await server.stop();
  }
}

/** What this start found broken off, by its log. */
const interruptedBefore = (server: OwnServer): number =>
  server
    .said()
    .split('\n')
    .filter((line) => line.includes('Analyses were interrupted'))
    .reduce((sum, line) => sum + Number(/"count":(\d+)/.exec(line)?.[1] ?? Number.NaN), 0);

/** Kills in an idle moment would prove little. */
async function firstNewRound({ rounds }: Acknowledged): Promise<void> {
  const before = rounds.size;
  while (rounds.size === before) await pause(10);
}

async function countOwed(server: OwnServer, { assessments }: Acknowledged): Promise<number> {
  let owed = 0;
  for (const id of assessments) if ((await stateOf(server, id)) !== 'done') owed++;
  return owed;
}

/** Rounds, photos and analyses without end; notes what the server has acknowledged. */
async function usePhone(server: OwnServer, work: Work, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    try {
      await waitForAnswers(server, work.pocket, signal);
      await sendRound(server, work);
      await pause(100);
    } catch {
      // The server died under this request: nothing was acknowledged. The phone goes on.
      await pause(20);
    }
  }
}

async function waitForAnswers(server: OwnServer, { unanswered }: Pocket, signal: AbortSignal): Promise<void> {
  while (unanswered.length >= MOST_UNANSWERED && !signal.aborted) {
    if ((await stateOf(server, unanswered[0])) === 'done') unanswered.shift();
    else await pause(100);
  }
}

async function sendRound(phone: Phone, { zoneId, acknowledged, pocket }: Work): Promise<void> {
  pocket.begun ??= await beginRound(phone, zoneId, acknowledged);
  const { roundId, bytes, uploadId } = pocket.begun;
  const pace = { partBytes: Math.ceil(bytes.byteLength / UPLOAD_PARTS), restMs: REST_MS };
  const from = await phone.goOnUploading(uploadId, bytes, pace);
  if (from !== null && from > 0) pocket.resumed++;
  // An upload that is gone has become the round's photo, but the answer was lost: the phone sends it once more.
  const lastUpload = from === null ? await phone.upload(bytes, pace.partBytes) : uploadId;
  const round = await phone.call('PUT', `/api/rounds/${roundId}/photos/after`, { source: { uploadId: lastUpload } });
  const after = round['after'] as { photo: { id: string } };
  acknowledged.photos.set(after.photo.id, sha256Of(bytes));
  pocket.begun = null;
  const assessmentId = randomUUID();
  await phone.call('POST', `/api/rounds/${roundId}/assessments`, { id: assessmentId });
  acknowledged.assessments.add(assessmentId);
  pocket.unanswered.push(assessmentId);
}

async function beginRound(
  phone: Phone,
  zoneId: string,
  acknowledged: Acknowledged,
): Promise<NonNullable<Pocket['begun']>> {
  const [roundId, bytes] = [randomUUID(), await noisyPhoto()];
  await phone.call('POST', `/api/zones/${zoneId}/rounds`, { id: roundId });
  acknowledged.rounds.add(roundId);
  return { roundId, bytes, uploadId: await phone.beginUpload(bytes) };
}

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
