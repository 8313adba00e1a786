import type { Client } from './server-bench.ts';
import { percentile } from './percentile.ts';

const QUERIES: Readonly<Record<string, string>> = {
  newest: '',
  'least residue': '?sort=residue',
  'most residue, done': '?sort=-residue&state=done',
  'a rare word': '?q=zone%200007',
  'a frequent word': '?q=teasel',
  'an absent word': '?q=nowhere',
};
const CALLS = 25;

export interface ListTimes {
  readonly p95Ms: number;
  readonly medianMs: number;
}

/** Milliseconds of the clock on the wall. */
export const wallClock = (): number => performance.now();
/** Milliseconds of processor time of this process: other programs on the machine do not count. */
export function processorClock(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Times the pages of the list of assessments that people ask for, and one from deep inside. */
export async function timeLists(client: Client, clock: () => number): Promise<Record<string, ListTimes>> {
  const times: Record<string, ListTimes> = {};
  const deep = await deepPage(client);
  for (const [name, query] of [...Object.entries(QUERIES), ['deep', deep]]) {
    const taken: number[] = [];
    for (let i = 0; i < CALLS; i++) {
      const began = clock();
      const response = await client.fetch(`/api/assessments${query}`);
      await response.text();
      if (response.status !== 200) throw new Error(`The list answered ${response.status} for ${name}`);
      taken.push(clock() - began);
    }
    times[name] = { p95Ms: percentile(taken, 0.95), medianMs: percentile(taken, 0.5) };
  }
  return times;
}

/** A page that starts after most of the ledger. */
async function deepPage(client: Client): Promise<string> {
  const oldest = await client.call('listAssessments', { query: { sort: 'queuedAt', limit: 60 } });
  const { queuedAt, id } = oldest.body.items[59];
  return `?sort=-queuedAt&cursor=${Buffer.from(JSON.stringify([queuedAt, id])).toString('base64url')}`;
}
