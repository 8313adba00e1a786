/**
 * Times `assess` of a 12-megapixel pair in one warm process against decoding the same two JPEGs with sharp, in one run, and the
 * segmenter on a 300 x 300 mm zone.
 *
 *   npm run bench
 */
import sharp from 'sharp';
import { encodeJpeg } from '../../fixtures/generate/scene/encode-photo.ts';
import { renderPair } from '../../fixtures/generate/scene/render-pair.ts';
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

const rendered = renderPair(SEED, { longSidePx: 4000, withCard: true, maxTiltDegrees: 20 }, { quickTruth: true });
const [before, after] = await Promise.all(
  [rendered.before, rendered.after].map(({ photo }) =>
    encodeJpeg(photo, { quality: 90, orientation: 1, displayP3: false }),
  ),
);
const zones = [rendered.before, rendered.after].map(({ truth }) => surfaceZone(truth.zone.polygonMm));
const tools = wireTools();

const stages = new Map<string, number>();
await assessOnce();
const decode: number[] = [];
const whole: number[] = [];
for (let run = 0; run < RUNS; run++) {
  decode.push(await timed(decodeBoth));
  whole.push(await timed(() => assessOnce(stages)));
}
const decodeMs = percentile(decode, 0.5);
const ratio = percentile(whole, 0.5) / decodeMs;
const oneJpegMs = decodeMs / 2;
const view = plainView();
await tools.segmenter.segment(view);
const segmentMs = percentile(await repeat(() => tools.segmenter.segment(view)), 0.5);
const memory = process.resourceUsage().maxRSS / 1024;

const say = (text: string): void => void process.stdout.write(`${text}\n`);
say(`decode both with sharp   ${decodeMs.toFixed(0)} ms`);
say(
  `assess the pair          ${percentile(whole, 0.5).toFixed(0)} ms = ${ratio.toFixed(2)} x decode (at most ${MOST_RATIO})`,
);
for (const [stage, ms] of stages) {
  say(`  ${stage.padEnd(22)} ${(ms / RUNS).toFixed(0)} ms = ${(ms / RUNS / decodeMs).toFixed(2)} x`);
}
say(
  `segment 300 x 300 mm     ${segmentMs.toFixed(0)} ms = ${(segmentMs / oneJpegMs).toFixed(2)} x one decode (at most ${MOST_SEGMENT_RATIO})`,
);
say(
  `peak memory              ${memory.toFixed(0)} MiB (at most ${MOST_MEMORY_MIB}; the renderer's share of this process included)`,
);
process.exitCode = ratio <= MOST_RATIO && segmentMs / oneJpegMs <= MOST_SEGMENT_RATIO ? 0 : 1;

async function decodeBoth(): Promise<void> {
  for (const file of [before, after]) await sharp(file).removeAlpha().raw().toBuffer();
}

async function assessOnce(totals?: Map<string, number>): Promise<void> {
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
      before,
      after,
      zone: zones[1],
      zoneBefore: zones[0],
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
