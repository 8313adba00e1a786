/**
 * Draws training windows for the segmentation network: square pieces of seeded scenes in the working colour space and at a
 * known scale, with the true class of every pixel.
 *
 *   node draw-windows.mjs FIRST_SEED STEP OUT_FOLDER SHARED_DATA_FOLDER [LAST_SEED]     (bundled; or through tsx)
 *
 * Writes OUT_FOLDER/<seed>.win: WINDOWS records of int16 Lab x 100 (three planes), uint8 target, float32 mm per pixel,
 * float32 flags. Targets: class codes of the contract (0 is not measured), 255 where nothing is known.
 */
import { mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { composedScene } from '../../../fixtures/generate/composed/composed-scene.ts';
import { loadTextures } from '../../../fixtures/generate/composed/load-textures.ts';
import { cardToPlane } from '../../../fixtures/generate/card/card-sheet.ts';
import type { RandomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import { randomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import { sceneFromSeed } from '../../../fixtures/generate/scene/draw-scene.ts';
import { throughJpeg } from '../../../fixtures/generate/scene/encode-photo.ts';
import { renderScene } from '../../../fixtures/generate/scene/render-scene.ts';
import type { SceneTruth } from '../../../fixtures/generate/scene/render-scene.ts';
import { photoPoint, surfacePoint } from '../../../server/domain/index.ts';
import type { LocatedCard } from '../../../server/measure/card/locate-card.ts';
import { referenceCard } from '../../../server/measure/card/card-layout.ts';
import { applyNormalisation } from '../../../server/measure/colour/apply-normalisation.ts';
import { cardFields } from '../../../server/measure/colour/card-fields.ts';
import { linearRasterToLabD50 } from '../../../server/measure/colour/lab-planes.ts';
import { PLAIN_SRGB, normaliseColour, responseTables } from '../../../server/measure/colour/normalise-colour.ts';
import type { ColourNormalisation } from '../../../server/measure/colour/normalise-colour.ts';
import { samplePatches } from '../../../server/measure/colour/sample-patches.ts';
import { photoMap, pixelsPerUnit, toSurfacePoint } from '../../../server/measure/geometry/photo-map.ts';
import { polygonCentroid } from '../../../server/measure/geometry/polygon.ts';
import { rectifyPhoto } from '../../../server/measure/geometry/rectify-photo.ts';
import { gridToPlane } from '../../../server/measure/geometry/surface-grid.ts';
import type { SurfaceGrid } from '../../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../../server/measure/raster/plane.ts';
import type { EncodedRgbRaster } from '../../../server/measure/raster/rgb-raster.ts';

const SIDE = 384;
const WINDOWS = 8;
/** So many of them look at the zone. */
const ZONE_WINDOWS = 4;
const UNKNOWN = 255;
const FINEST_MM = 0.25;
/** Brighter than paper in the same light: glare. */
const GLARE_LIGHTNESS = 98;

const CARD = referenceCard();
const [firstSeed, seedStep, folder, shared] = process.argv.slice(2);
const lastSeed = Number(process.argv.at(6) ?? Infinity);
const textures = await loadTextures(shared);
mkdirSync(folder, { recursive: true });

for (let seed = Number(firstSeed); seed < lastSeed; seed += Number(seedStep)) {
  const records = await windowsOf(seed);
  if (records === null) continue;
  // Renamed when whole, so that a reader never sees half a file.
  writeFileSync(`${folder}/${seed}.part`, records);
  renameSync(`${folder}/${seed}.part`, `${folder}/${seed}.win`);
}

async function windowsOf(seed: number): Promise<Uint8Array | null> {
  const random = randomStream(seed).branch('windows');
  const options = { withCard: true, longSidePx: random.pick([1100, 1280, 1440, 1600, 2000]) };
  const composed = seed % 5 < 2 ? composedScene(seed, textures, options) : null;
  const spec = composed === null ? sceneFromSeed(seed, options) : composed.spec;
  const surface = composed === null ? {} : { surface: composed.surface };
  const { photo, truth } = renderScene(spec, { quickTruth: true, ...surface });
  const jpeg = await throughJpeg(photo, spec.file.quality);
  const located = locatedFromTruth(truth);
  const normalisation = normaliseColour(samplePatches(jpeg, located, cardFields(located.card, null)), 'nominal');
  if (normalisation.response === null) return null;
  const parts: Uint8Array[] = [];
  for (let n = 0; n < WINDOWS; n++) {
    const isPlain = n === WINDOWS - 1 && random.chance(0.7);
    const grid = drawGrid(random.branch(`window ${n}`), truth, jpeg, n);
    parts.push(record(jpeg, truth, grid, { located, normalisation: isPlain ? PLAIN_SRGB : normalisation, isPlain }));
  }
  return Buffer.concat(parts);
}

function locatedFromTruth(truth: SceneTruth): LocatedCard {
  return {
    card: CARD,
    map: photoMap(truth.toPhoto, truth.lens),
    covariance: new Float64Array(64),
    bendSigma: 0,
    outline: [],
    markersRead: 4,
  };
}

/** The first windows look at the zone at about the working scale, the others anywhere in the photo and at any scale. */
function drawGrid(random: RandomStream, truth: SceneTruth, photo: PhotoSize, n: number): SurfaceGrid {
  const map = photoMap(truth.toPhoto, truth.lens);
  const zone = polygonCentroid(truth.zone.polygonMm.map(([x, y]) => surfacePoint(x, y)));
  const spread = n === 0 ? 20 : 60;
  const centre =
    n < ZONE_WINDOWS
      ? surfacePoint(zone[0] + random.uniform(-spread, spread), zone[1] + random.uniform(-spread, spread))
      : toSurfacePoint(
          map,
          photoPoint(photo.width * random.uniform(0.12, 0.88), photo.height * random.uniform(0.12, 0.88)),
        );
  const pixelMm = 1 / pixelsPerUnit(map, centre);
  const finest = Math.max(FINEST_MM, pixelMm);
  const step = n < 2 ? finest : Math.max(0.75 * pixelMm, random.logUniform(0.2, n < WINDOWS - 1 ? 0.45 : 0.8));
  const angle = random.uniform(-Math.PI, Math.PI);
  const half = (SIDE * step) / 2;
  const c = Math.cos(angle) * half;
  const s = Math.sin(angle) * half;
  const origin = [centre[0] - c + s, centre[1] - s - c] as const;
  return { unit: 'mm', width: SIDE, height: SIDE, step, origin, angle };
}

interface PhotoSize {
  readonly width: number;
  readonly height: number;
}

interface Colours {
  readonly located: LocatedCard;
  readonly normalisation: ColourNormalisation;
  readonly isPlain: boolean;
}

function record(photo: EncodedRgbRaster, truth: SceneTruth, grid: SurfaceGrid, colours: Colours): Uint8Array {
  const { located, normalisation, isPlain } = colours;
  const mask = byteMask(SIDE, SIDE);
  mask.values.fill(1);
  const tables = responseTables(normalisation, photo.maxCode);
  const { light, blocked } = rectifyPhoto(photo, grid, { map: located.map, mask, tables });
  const lab = linearRasterToLabD50(applyNormalisation(light, grid, normalisation));
  const count = SIDE * SIDE;
  const planes = new Int16Array(3 * count);
  const target = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    [lab.L, lab.a, lab.b].forEach((p, k) => (planes[k * count + i] = clampCentis(p.values[i])));
    target[i] = targetAt(truth, gridToPlane(grid, (i % SIDE) + 0.5, Math.floor(i / SIDE) + 0.5));
    if (blocked.values[i] !== 0) target[i] = UNKNOWN;
    else if (lab.L.values[i] > GLARE_LIGHTNESS && target[i] !== UNKNOWN) target[i] = 0;
  }
  const tail = Float32Array.of(grid.step, isPlain ? 1 : 0);
  return Buffer.concat([Buffer.from(planes.buffer), target, Buffer.from(tail.buffer)]);
}

function clampCentis(value: number): number {
  return Math.max(-30000, Math.min(30000, Math.round(100 * value)));
}

/** Class at a point of the card's plane; the card itself is not measured; beyond the rendered plate nothing is known. */
function targetAt({ classMap }: SceneTruth, [x, y]: readonly [number, number]): number {
  if (x > -1 && y > -1 && x < CARD.widthMm + 1 && y < CARD.heightMm + 1) return 0;
  const [gx, gy] = cardToPlane(classMap.placement, x, y);
  const column = Math.floor(gx / classMap.mmPerPixel);
  const row = Math.floor(gy / classMap.mmPerPixel);
  const isInside = column >= 0 && row >= 0 && column < classMap.width && row < classMap.height;
  return isInside ? classMap.codes[row * classMap.width + column] : UNKNOWN;
}
