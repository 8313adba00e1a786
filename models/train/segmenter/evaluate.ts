/**
 * Evaluates the default network and the colour classifier on scenes and photos that training never saw, and writes
 * models/<name>/<version>/evaluation.json. Deterministic, on the CPU.
 *
 *   npm run evaluate [-- --scenes N]
 *
 * Scenes: half rendered, half composed with ../shared/data, seeds that training never drew. Bridge photos: blocks of
 * twenty consecutive ones that training left out. Without ../shared/data only the rendered part is done, and nothing is written.
 */
import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import sharp from 'sharp';
import { photoFromSeed } from '../../../fixtures/generate/composed/photo-from-seed.ts';
import { SURFACE_CLASSES } from '../../../server/domain/index.ts';
import { gridToPlane } from '../../../server/measure/geometry/surface-grid.ts';
import { codesInPhoto } from '../../../server/measure/segmentation/codes-in-photo.ts';
import type { Segmentation } from '../../../server/measure/segmentation/segmentation.ts';
import { readCard, viewSurface } from '../../../server/measure/view-surface.ts';
import type { SurfaceView } from '../../../server/measure/view-surface.ts';
import { wireTools } from '../../../server/wiring.ts';
import type { SegmenterName } from '../../../server/wiring.ts';
import { surfaceZone, trueClassAt } from '../../../tests/accuracy/scene-truth.ts';
import { Scores } from './scores.ts';

/** Seeds from here on were never drawn for training: the model's card names those that were. */
const FIRST_SEED = 9_000_000;
const { values: asked } = parseArgs({ options: { scenes: { type: 'string', default: '160' } } });
const shared = fileURLToPath(new URL('../../../../shared/data', import.meta.url));
const hasShared = existsSync(shared);
const tools = wireTools();
const NAMES: readonly SegmenterName[] = ['network', 'colour'];

const scores = Object.fromEntries(NAMES.map((name) => [name, new Scores()])) as Record<SegmenterName, Scores>;
await evaluateScenes(Number(asked.scenes));
if (hasShared) await evaluateBridge();
const result = {
  scenes: { count: Number(asked.scenes), firstSeed: FIRST_SEED, composedHalf: hasShared },
  bridge: hasShared
    ? 'blocks of 20 consecutive photos, every fifth, that training left out; 512 px, no scale told'
    : null,
  classes: SURFACE_CLASSES,
  network: scores.network.summary(),
  colour: scores.colour.summary(),
};
process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
const registry = JSON.parse(readFileSync(new URL('../../registry.json', import.meta.url), 'utf8')) as {
  default: string;
};
if (hasShared) {
  const file = new URL(`../../${registry.default}/evaluation.json`, import.meta.url);
  writeFileSync(file, `${JSON.stringify({ model: registry.default, ...result }, null, 2)}\n`);
}

async function evaluateScenes(count: number): Promise<void> {
  for (let i = 0; i < count; i++) {
    const seed = FIRST_SEED + i;
    const options = { withCard: true, maxTiltDegrees: 40 };
    const pictures = hasShared && i % 2 === 1 ? shared : null;
    const { photo, truth } = await photoFromSeed(seed, { pictures, options, quickTruth: true });
    const card = readCard(photo, null, tools.kernel);
    if (!card.ok) continue;
    const view = viewSurface(photo, card.value, surfaceZone(truth.zone.polygonMm));
    if (!view.ok) continue;
    const truths = truthOnGrid(view.value, (point) => trueClassAt(truth, point));
    for (const name of NAMES) {
      const told = await tools.segmenterNamed(name).segment(view.value);
      if (told.ok) scores[name].addScene(truths, told.value);
    }
  }
}

function truthOnGrid(view: SurfaceView, classAt: (point: readonly [number, number]) => number): Uint8Array {
  const { grid, zone } = view;
  return Uint8Array.from(zone.values, (inside, i) =>
    inside === 0 ? 0 : classAt(gridToPlane(grid, (i % grid.width) + 0.5, Math.floor(i / grid.width) + 0.5)),
  );
}

async function evaluateBridge(): Promise<void> {
  const folder = `${shared}/bridge-corrosion`;
  const names = readdirSync(`${folder}/images`).sort();
  for (const [i, name] of names.entries()) {
    if (Math.floor(i / 20) % 5 !== 3) continue;
    const decoded = await tools.decoder.decode(readFileSync(`${folder}/images/${name}`));
    if (!decoded.ok) continue;
    const { raster } = decoded.value;
    const mask = await sharp(`${folder}/masks/${name.replace(/\.[^.]+$/, '.png')}`)
      .resize(raster.width, raster.height, { kernel: 'nearest', fit: 'fill' })
      .extractChannel(0)
      .raw()
      .toBuffer();
    const card = readCard(raster, null, tools.kernel);
    const view = card.ok ? viewSurface(raster, card.value, null) : card;
    if (!view.ok) continue;
    for (const segmenter of NAMES) {
      const told = await tools.segmenterNamed(segmenter).segment(view.value);
      if (told.ok) scores[segmenter].addRust(rustOf(view.value, told.value, raster), mask, raster);
    }
  }
}

function rustOf(view: SurfaceView, told: Segmentation, raster: { width: number; height: number }): Uint8Array {
  return codesInPhoto(view, told, { width: raster.width, height: raster.height, photoPxPerPixel: 1 }, 0);
}
