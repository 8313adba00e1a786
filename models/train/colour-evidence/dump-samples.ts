/**
 * Writes feature samples with their true class from seeded scenes, for fit.py.
 * npx tsx models/train/colour-evidence/dump-samples.ts FROM_SEED TO_SEED OUT_FOLDER [SHARED_DATA_FOLDER]
 *
 * Odd seeds are composed from real textures where the folder is given. One record per sample, float32:
 * scene seed, class code, L, a, b, around L, a, b, grain, mottle L, mottle chroma.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { composedScene } from '../../../fixtures/generate/composed/composed-scene.ts';
import { loadTextures } from '../../../fixtures/generate/composed/load-textures.ts';
import { randomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import { sceneFromSeed } from '../../../fixtures/generate/scene/draw-scene.ts';
import { throughJpeg } from '../../../fixtures/generate/scene/encode-photo.ts';
import { classAt, renderScene } from '../../../fixtures/generate/scene/render-scene.ts';
import { openCvKernel } from '../../../server/adapters/vision/open-cv-kernel.ts';
import { surfacePoint } from '../../../server/domain/index.ts';
import { gridToPlane } from '../../../server/measure/geometry/surface-grid.ts';
import { colourFeatures } from '../../../server/measure/segmentation/colour-features.ts';
import { findUnmeasured } from '../../../server/measure/segmentation/find-unmeasured.ts';
import { readCard, viewSurface } from '../../../server/measure/view-surface.ts';
import { usableMask } from '../../../server/measure/raster/usable-mask.ts';

const [from, to, folder] = process.argv.slice(2);
const shared = process.argv.at(5);
const SAMPLES_PER_VIEW = 5000;
const kernel = openCvKernel();
const textures = shared === undefined ? null : await loadTextures(shared);
mkdirSync(folder, { recursive: true });

for (let seed = Number(from); seed < Number(to); seed++) {
  const options = { withCard: true, longSidePx: 1600 };
  const composed = textures !== null && seed % 2 === 1 ? composedScene(seed, textures, options) : null;
  const spec = composed === null ? sceneFromSeed(seed, options) : composed.spec;
  const { photo, truth } = renderScene(spec, {
    quickTruth: true,
    ...(composed === null ? {} : { surface: composed.surface }),
  });
  const jpeg = await throughJpeg(photo, spec.file.quality);
  const polygon = truth.zone.polygonMm.map(([x, y]) => surfacePoint(x, y));
  const records: number[] = [];
  const card = readCard(jpeg, null, kernel);
  if (!card.ok || card.value.located === null) continue;
  for (const zone of [null, { space: 'surface' as const, polygon }]) {
    const view = viewSurface(jpeg, card.value, zone);
    if (!view.ok) continue;
    const { grid, lab, zone: mask, blocked } = view.value;
    const f = colourFeatures(lab, usableMask(mask, blocked), grid);
    const unmeasured = findUnmeasured(lab, f, mask, blocked);
    const random = randomStream(seed).branch(zone === null ? 'whole' : 'zone');
    for (let n = 0; n < SAMPLES_PER_VIEW; n++) {
      const column = Math.floor(random.uniform(0, grid.width));
      const row = Math.floor(random.uniform(0, grid.height));
      const i = row * grid.width + column;
      if (mask.values[i] === 0 || unmeasured.values[i] !== 0) continue;
      const code = classAt(truth, gridToPlane(grid, column + 0.5, row + 0.5));
      if (code === 0) continue;
      const at = Math.floor(row / f.block) * f.aroundL.width + Math.floor(column / f.block);
      records.push(seed, code + (zone === null ? 0 : 10));
      records.push(f.L.values[i], f.a.values[i], f.b.values[i]);
      records.push(f.aroundL.values[at], f.aroundA.values[at], f.aroundB.values[at]);
      records.push(f.grain.values[at], f.mottleLightness.values[at], f.mottleChroma.values[at]);
    }
  }
  writeFileSync(`${folder}/${seed}.f32`, new Uint8Array(Float32Array.from(records).buffer));
}
