import sharp from 'sharp';
import type { ZoneRound } from '../../server/domain/api/rounds.ts';
import type { JobZone } from '../../server/domain/api/zones.ts';
import { settingsSchema } from '../../server/domain/index.ts';
import type { Client } from './server-bench.ts';

export const TEASEL_SETTINGS = settingsSchema.parse({
  powerW: 1500,
  scanWidthMm: 150,
  scanFrequencyHz: 10,
  travelSpeedMmPerS: 50,
  passes: 1,
});

/** A small photo that decodes; each seed gives other bytes. */
export const smallPhoto = (seed: number): Promise<Buffer> =>
  sharp({ create: { width: 640, height: 480, channels: 3, background: { r: (40 * seed) % 256, g: 90, b: 60 } } })
    .jpeg()
    .toBuffer();

export interface TeaselRound {
  readonly jobId: string;
  readonly zone: JobZone;
  readonly round: ZoneRound;
}

/** A job with one zone and one round that has both photos. */
export async function addTeaselRound(client: Client, zoneName = 'Stern plate'): Promise<TeaselRound> {
  const job = await client.call('addJob', { body: { name: 'Workboat Teasel' } });
  const jobId = job.body.id;
  const zone = await client.call('addZone', {
    params: { jobId },
    body: { name: zoneName, targetGrade: 'sa 2.5', surfaceKind: 'heavy pitted rust' },
  });
  const added = await client.call('addRound', {
    params: { zoneId: zone.body.id },
    body: { settings: TEASEL_SETTINGS },
  });
  const roundId = added.body.id;
  let round = added.body;
  for (const [seed, role] of ['before', 'after'].entries()) {
    const uploadId = await client.upload(await smallPhoto(seed + 1), `${role}.jpg`);
    const attached = await client.call('attachPhoto', {
      params: { roundId, role: role as 'before' | 'after' },
      body: { source: { uploadId } },
    });
    round = attached.body;
  }
  return { jobId, zone: zone.body, round };
}

/** Follows an assessment to its end; answers the states that were told. */
export async function followToEnd(client: Client, path: string): Promise<{ state: string; stage: string | null }[]> {
  const response = await client.fetch(path);
  const text = await response.text();
  return text
    .split('\n')
    .filter((line) => line.startsWith('data: '))
    .map((line) => JSON.parse(line.slice('data: '.length)) as { state: string; stage: string | null });
}
