/**
 * Times `assess` of a 12-megapixel pair in one warm process against decoding the same two JPEGs with sharp, in one run, and the
 * segmenter on a 300 x 300 mm zone.
 *
 *   npm run bench
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { encodeJpeg } from '../../fixtures/generate/scene/encode-photo.ts';
import { renderPair } from '../../fixtures/generate/scene/render-pair.ts';
import type { Zone } from '../../server/domain/index.ts';
import type { SurfaceView } from '../../server/measure/view-surface.ts';
import { plane, byteMask } from '../../server/measure/raster/plane.ts';
import { assessPhotos } from '../../server/services/assess-photos.ts';
import type { AssessmentStage } from '../../server/services/assess-photos.ts';
import { wireTools } from '../../server/wiring.ts';
import { surfaceZone } from '../accuracy/scene-truth.ts';
import { percentile } from '../support/percentile.ts';

const MOST_RATIO = 12;
const MOST_MEMORY_MIB = 700;
const MOST_SEGMENT_RATIO = 3;
const RUNS = 5;
const SEED = 4242;
const ROLES = ['before', 'after'] as const;
type Tools = ReturnType<typeof wireTools>;

const folder = process.argv.at(2);
if (folder === undefined) {
  process.exitCode = await renderAndMeasure();
} else {
  process.exitCode = await measure(folder);
}

/** The renderer takes much memory: what is measured runs in a process of its own, from files. */
async function renderAndMeasure(): Promise<number> {
  const pair = renderPair(SEED, { longSidePx: 4000, withCard: true, maxTiltDegrees: 20 }, { quickTruth: true });
  const at = mkdtempSync(join(tmpdir(), 'bareplate-bench-'));
  try {
    for (const role of ROLES) {
      const { photo, truth } = pair[role];
      writeFileSync(
        join(at, `${role}.jpg`),
        await encodeJpeg(photo, { quality: 90, orientation: 1, displayP3: false }),
      );
      writeFileSync(join(at, `${role}.json`), JSON.stringify(truth.zone.polygonMm));
    }
    return spawnSync('npx', ['tsx', import.meta.filename, at], { stdio: 'inherit' }).status ?? 1;
  } finally {
    rmSync(at, { recursive: true });
  }
}

interface BenchPair {
  readonly photos: readonly Uint8Array[];
  readonly zones: readonly Zone[];
}

async function measure(at: string): Promise<number> {
  const pair: BenchPair = {
    photos: ROLES.map((role) => readFileSync(join(at, `${role}.jpg`))),
    zones: ROLES.map((role) =>
      surfaceZone(JSON.parse(readFileSync(join(at, `${role}.json`), 'utf8')) as [number, number][]),
    ),
  };
  const tools = wireTools();
  const stages = new Map<string, number>();
  await assessOnce(pair, tools);
  const decode: number[] = [];
  const whole: number[] = [];
  for (let run = 0; run < RUNS; run++) {
    decode.push(await timed(() => decodeBoth(pair)));
    whole.push(await timed(() => assessOnce(pair, tools, stages)));
  }
  // Before the segmenter's own timing, which is no part of an assessment.
  const memory = process.resourceUsage().maxRSS / 1024;
  const decodeMs = percentile(decode, 0.5);
  const ratio = percentile(whole, 0.5) / decodeMs;
  const view = plainView();
  await tools.segmenter.segment(view);
  const segmentMs = percentile(await repeat(() => tools.segmenter.segment(view)), 0.5);
  const segmentRatio = segmentMs / (decodeMs / 2);
  say(`decode both with sharp   ${decodeMs.toFixed(0)} ms`);
  say(
    `assess the pair          ${percentile(whole, 0.5).toFixed(0)} ms = ${ratio.toFixed(2)} x decode (at most ${MOST_RATIO})`,
  );
  for (const [stage, ms] of stages) {
    say(`  ${stage.padEnd(22)} ${(ms / RUNS).toFixed(0)} ms = ${(ms / RUNS / decodeMs).toFixed(2)} x`);
  }
  say(
    `segment 300 x 300 mm     ${segmentMs.toFixed(0)} ms = ${segmentRatio.toFixed(2)} x one decode (at most ${MOST_SEGMENT_RATIO})`,
  );
  say(`peak memory              ${memory.toFixed(0)} MiB (at most ${MOST_MEMORY_MIB})`);
  const holds = ratio <= MOST_RATIO && segmentRatio <= MOST_SEGMENT_RATIO && memory <= MOST_MEMORY_MIB;
  return holds ? 0 : 1;
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

async function decodeBoth({ photos }: BenchPair): Promise<void> {
  for (const file of photos) await sharp(file).removeAlpha().raw().toBuffer();
}

async function assessOnce(pair: BenchPair, tools: Tools, totals?: Map<string, number>): Promise<void> {
  let stage: AssessmentStage | null = null;
  let since = performance.now();
  const enter = (next: AssessmentStage | null): void => {
    const now = performance.now();
    if (stage !== null && totals !== undefined) totals.set(stage, (totals.get(stage) ?? 0) + now - since);
    stage = next;
    since = now;
  };
  const reading = await assessPhotos(
    {
      before: pair.photos[0],
      after: pair.photos[1],
      zone: pair.zones[1],
      zoneBefore: pair.zones[0],
      cardValues: null,
      settings: null,
      target: null,
      onStage: enter,
    },
    tools,
  );
  enter(null);
  if (!reading.ok) throw new Error(`the bench pair was refused: ${reading.fault.code}`);
}

/** A zone of 300 x 300 mm at the working scale: mottled grey, since the time does not depend on what is seen. */
function plainView(): SurfaceView {
  const side = 1200;
  const layer = (level: number, swing: number): ReturnType<typeof plane> => {
    const out = plane(side, side);
    for (let i = 0; i < out.values.length; i++) out.values[i] = level + swing * Math.sin(i * 0.7) * Math.cos(i * 0.013);
    return out;
  };
  const zone = byteMask(side, side);
  zone.values.fill(1);
  return {
    located: null,
    normalisation: { response: {} },
    grid: { unit: 'mm', width: side, height: side, step: 0.25, origin: [0, 0], angle: 0 },
    lab: { L: layer(50, 12), a: layer(4, 4), b: layer(8, 8) },
    zone,
    blocked: byteMask(side, side),
  } as unknown as SurfaceView;
}

async function repeat(act: () => Promise<unknown>): Promise<number[]> {
  const times: number[] = [];
  for (let run = 0; run < RUNS; run++) times.push(await timed(act));
  return times;
}

async function timed(act: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await act();
  return performance.now() - start;
}
