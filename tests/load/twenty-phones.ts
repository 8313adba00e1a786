import { readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import sharp from 'sharp';
import { z } from 'zod';
import { demoFolder } from '../../server/adapters/objects/demo-folder.ts';
import { piscinaAnalyst } from '../../server/adapters/queue/piscina-analyst.ts';
import { zoneFileSchema } from '../../server/domain/index.ts';
import type { AssessmentTask } from '../../server/services/analysis-ports.ts';
import type { DemoPhoto } from '../../server/services/offer-demo.ts';
import { startOwnServer } from '../support/own-server.ts';
import type { Phone } from '../support/own-server.ts';

/**
 * Phones, each with a session of its own, upload pairs of 12 megapixels at once in parts of 1 MiB and have them assessed by a
 * server in a process of its own. The bare core assesses the same pairs on the same cores with the same number of workers: one
 * half before and one half after, so that a machine that grows busier or quieter meanwhile does not tell for either side.
 *
 *   npm run load [-- PHONES]        fails where a limit is missed; BAREPLATE_WORKERS and BAREPLATE_SEGMENTER as the server's
 */
const MOST_MEMORY_MIB = 1536;
const LEAST_SHARE = 0.8;
const PART_BYTES = 1024 * 1024;
const phones = Number(process.argv[2] ?? 20);
const workers = Number(process.env['BAREPLATE_WORKERS'] ?? Math.max(1, availableParallelism() - 1));
const segmenter = process.env['BAREPLATE_SEGMENTER'] ?? 'network';
const assessmentSchema = z.object({ state: z.string(), fault: z.object({ code: z.string() }).nullable() });
const WIDTH_PX = 4000;
const HEIGHT_PX = 3000;

const demo = await demoFolder(new URL('../../fixtures/demo/', import.meta.url)).read();
const scene = demo.scenes[0];

/** The demo photo at 12 megapixels; another quality each time gives other bytes. */
const enlarge = (photo: DemoPhoto, phone: number): Promise<Buffer> =>
  sharp(photo.bytes)
    .resize(WIDTH_PX, HEIGHT_PX)
    .withMetadata({ exif: { IFD0: { ImageDescription: `phone ${phone}` } } })
    .jpeg({ quality: 90 })
    .toBuffer();

interface Pair {
  readonly before: Buffer;
  readonly after: Buffer;
}

const pairs: Pair[] = [];
for (let phone = 0; phone < phones; phone++) {
  pairs.push({ before: await enlarge(scene.before, phone), after: await enlarge(scene.after, phone) });
}
const say = (text: string): void => void process.stdout.write(`${text}\n`);
say(`${phones} pairs, ${(pairs[0].after.byteLength / 1e6).toFixed(1)} MB a photo, ${workers} worker(s)`);

const half = Math.ceil(phones / 2);
const bareFirst = await runBare(pairs.slice(0, half));
const served = await runServer();
const bareLast = await runBare(pairs.slice(half));
process.exitCode = report(served, { clockS: bareFirst.clockS + bareLast.clockS, cpuS: bareFirst.cpuS + bareLast.cpuS });

interface Effort {
  readonly clockS: number;
  readonly cpuS: number;
}
interface Served extends Effort {
  readonly failed: number;
  readonly peakMiB: number;
}

async function runServer(): Promise<Served> {
  const server = await startOwnServer({
    BAREPLATE_WORKERS: String(workers),
    BAREPLATE_SEGMENTER: segmenter,
    BAREPLATE_DEMO: 'none',
  });
  try {
    const sessions: Phone[] = [];
    for (let phone = 0; phone < phones; phone++) sessions.push(await server.signInAgain());
    const [began, cpuBegan] = [performance.now(), await processorSeconds(server.pid)];
    const outcomes = await Promise.allSettled(
      pairs.map(async (pair, phone) => ({ phone: sessions[phone], id: await usePhone(sessions[phone], pair) })),
    );
    say(`uploaded and queued in ${((performance.now() - began) / 1000).toFixed(1)} s`);
    let failed = 0;
    for (const outcome of outcomes) {
      if (outcome.status === 'rejected') say(`a phone failed: ${String(outcome.reason)}`);
      if (outcome.status === 'rejected' || !(await isDone(outcome.value.phone, outcome.value.id))) failed++;
    }
    const clockS = (performance.now() - began) / 1000;
    const cpuS = (await processorSeconds(server.pid)) - cpuBegan;
    return { clockS, cpuS, failed, peakMiB: await peakMemoryMiB(server.pid) };
  } finally {
    await server.stop();
  }
}

function report({ clockS, cpuS, failed, peakMiB }: Served, bare: Effort): number {
  const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
  say(`assessed                 ${phones - failed} of ${phones}`);
  say(`peak memory              ${peakMiB.toFixed(0)} MiB, all processes (at most ${MOST_MEMORY_MIB})`);
  say(
    `by the clock             ${clockS.toFixed(1)} s, bare core ${bare.clockS.toFixed(1)} s: throughput ${percent(bare.clockS / clockS)} of it (at least ${percent(LEAST_SHARE)})`,
  );
  say(
    `processor time           ${cpuS.toFixed(1)} s, bare core ${bare.cpuS.toFixed(1)} s: ${percent(bare.cpuS / cpuS)}`,
  );
  return failed === 0 && peakMiB <= MOST_MEMORY_MIB && bare.clockS / clockS >= LEAST_SHARE ? 0 : 1;
}

async function usePhone(own: Phone, pair: Pair): Promise<string> {
  const zoneId = await own.makeZone();
  const round = await own.call('POST', `/api/zones/${zoneId}/rounds`, { settings: scene.settings });
  const roundId = String(round['id']);
  for (const role of ['before', 'after'] as const) {
    const uploadId = await own.upload(pair[role], PART_BYTES);
    const outline = { polygonMm: scene[role].polygonMm };
    await own.call('PUT', `/api/rounds/${roundId}/photos/${role}`, { source: { uploadId }, outline });
  }
  return String((await own.call('POST', `/api/rounds/${roundId}/assessments`, {}))['id']);
}

async function isDone(own: Phone, id: string): Promise<boolean> {
  for (;;) {
    const read = assessmentSchema.parse(await own.call('GET', `/api/assessments/${id}`));
    if (read.fault !== null) say(`an assessment failed: ${read.fault.code}`);
    if (read.state === 'done' || read.state === 'failed') return read.state === 'done';
    await pause(250);
  }
}

/** Of the process and all below it. Peaks need not fall together: the sum is never too low. */
async function peakMemoryMiB(pid: number): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8');
  const children = (await readFile(`/proc/${pid}/task/${pid}/children`, 'utf8'))
    .split(' ')
    .filter((id) => id.trim() !== '');
  const below = await Promise.all(children.map((child) => peakMemoryMiB(Number(child))));
  return below.reduce((sum, mib) => sum + mib, Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1]) / 1024);
}

/** Ticks of Linux are hundredths of a second. */
async function processorSeconds(pid: number): Promise<number> {
  const stat = await readFile(`/proc/${pid}/stat`, 'utf8');
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

async function runBare(some: readonly Pair[]): Promise<Effort> {
  const analyst = piscinaAnalyst(new URL('../../server/analysis-worker.mjs', import.meta.url), workers);
  const [began, cpuBegan] = [performance.now(), process.cpuUsage()];
  const results = await Promise.all(some.map((pair) => analyst.assess(taskOf(pair), () => undefined)));
  const clockS = (performance.now() - began) / 1000;
  const { user, system } = process.cpuUsage(cpuBegan);
  await analyst.stop();
  if (!results.every((result) => result.ok)) throw new Error('The bare core refused a pair');
  return { clockS, cpuS: (user + system) / 1e6 };
}

function taskOf({ before, after }: Pair): AssessmentTask {
  const zone = (photo: DemoPhoto): AssessmentTask['zone'] => zoneFileSchema.parse({ polygonMm: photo.polygonMm });
  return {
    kind: 'assessment',
    before,
    after,
    zone: zone(scene.after),
    zoneBefore: zone(scene.before),
    cardValues: null,
    settings: { settings: scene.settings },
    earlierRounds: [],
    scrapeTest: null,
    target: null,
    title: 'load',
  };
}
