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
import type { OwnServer } from '../support/own-server.ts';

/**
 * `BAREPLATE_SEGMENTER=colour node --import tsx tests/load/twenty-phones.ts [phones]`: phones upload pairs of 12 megapixels
 * at once and have them assessed; then the bare core assesses the same pairs on the same cores.
 */
const phones = Number(process.argv[2] ?? 20);
const workers = Math.max(1, availableParallelism() - 1);
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

const server = await startOwnServer({ BAREPLATE_WORKERS: String(workers), BAREPLATE_DEMO: 'none' });
const began = performance.now();
const outcomes = await Promise.allSettled(pairs.map((pair) => usePhone(server, pair)));
const uploadedS = (performance.now() - began) / 1000;
const failed = outcomes.filter((outcome) => outcome.status === 'rejected');
for (const failure of failed) say(`a phone failed: ${String(failure.reason)}`);
const ids = outcomes.flatMap((outcome) => (outcome.status === 'fulfilled' ? [outcome.value] : []));
let done = 0;
for (const id of ids) if (await isDone(server, id)) done++;
const servedS = (performance.now() - began) / 1000;
const peakMiB = await peakMemoryMiB(server.pid);
const servedCpuS = await processorSeconds(server.pid);
await server.stop();
say(`uploaded and queued in ${uploadedS.toFixed(1)} s, all assessed after ${servedS.toFixed(1)} s`);
say(`assessed ${done} of ${phones}; peak memory ${peakMiB.toFixed(0)} MiB`);

const bareBegan = process.cpuUsage();
const bareS = await runBare();
const { user, system } = process.cpuUsage(bareBegan);
const bareCpuS = (user + system) / 1e6;
const share = (bare: number, served: number): string => `${((100 * bare) / served).toFixed(0)} %`;
say(`the bare core takes ${bareS.toFixed(1)} s: throughput by the clock is ${share(bareS, servedS)} of it`);
say(
  `processor time: server ${servedCpuS.toFixed(1)} s, bare core ${bareCpuS.toFixed(1)} s: ${share(bareCpuS, servedCpuS)}`,
);
process.exitCode = failed.length === 0 && done === phones ? 0 : 1;

async function usePhone(own: OwnServer, pair: Pair): Promise<string> {
  const zoneId = await own.makeZone();
  const round = await own.call('POST', `/api/zones/${zoneId}/rounds`, { settings: scene.settings });
  const roundId = String(round['id']);
  for (const role of ['before', 'after'] as const) {
    const uploadId = await own.upload(pair[role], 1024 * 1024);
    const outline = { polygonMm: scene[role].polygonMm };
    await own.call('PUT', `/api/rounds/${roundId}/photos/${role}`, { source: { uploadId }, outline });
  }
  return String((await own.call('POST', `/api/rounds/${roundId}/assessments`, {}))['id']);
}

async function isDone(own: OwnServer, id: string): Promise<boolean> {
  for (;;) {
    const read = assessmentSchema.parse(await own.call('GET', `/api/assessments/${id}`));
    if (read.fault !== null) say(`an assessment failed: ${read.fault.code}`);
    if (read.state === 'done' || read.state === 'failed') return read.state === 'done';
    await pause(250);
  }
}

async function peakMemoryMiB(pid: number): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8');
  return Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1]) / 1024;
}

/** Ticks of Linux are hundredths of a second. */
async function processorSeconds(pid: number): Promise<number> {
  const stat = await readFile(`/proc/${pid}/stat`, 'utf8');
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

async function runBare(): Promise<number> {
  const analyst = piscinaAnalyst(new URL('../../server/analysis-worker.mjs', import.meta.url), workers);
  const start = performance.now();
  const results = await Promise.all(pairs.map((pair) => analyst.assess(taskOf(pair), () => undefined)));
  const seconds = (performance.now() - start) / 1000;
  await analyst.stop();
  if (!results.every((result) => result.ok)) throw new Error('The bare core refused a pair');
  return seconds;
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
