/**
 * Draws training data for the segmentation network from seeded scenes: square windows in the working colour space and at a
 * known scale, and the whole zone as the program shows it to the network, with the true class of every pixel.
 *
 *   node draw-windows.mjs FIRST_SEED STEP OUT_FOLDER SHARED_DATA_FOLDER [LAST_SEED]     (bundled; or through tsx)
 *
 * Writes OUT_FOLDER/<seed>.win: WINDOWS records of int16 Lab x 100 (three planes), uint8 target, uint8 lack of dwell at half
 * the size, float32 mm per pixel, float32 flags; and OUT_FOLDER/<seed>.zone: one such record of ZONE_SIDE, for some seeds with
 * one more of another renderer, which tells no classes. Targets: class codes of the contract (0 is not measured), 255 where
 * nothing is known; lack of dwell in 1/200, 255 where not known.
 */
import { mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { composedScene } from '../../../fixtures/generate/composed/composed-scene.ts';
import { loadTextures } from '../../../fixtures/generate/composed/load-textures.ts';
import { cardToPlane } from '../../../fixtures/generate/card/card-sheet.ts';
import type { RandomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import { randomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import { sceneFromSeed } from '../../../fixtures/generate/scene/draw-scene.ts';
import { WHOLE_DWELL } from '../../../fixtures/generate/surface/surface-state.ts';
import { throughJpeg } from '../../../fixtures/generate/scene/encode-photo.ts';
import { renderScene } from '../../../fixtures/generate/scene/render-scene.ts';
import type { SceneTruth } from '../../../fixtures/generate/scene/render-scene.ts';
import { STREAK_KINDS, photoPoint, surfacePoint } from '../../../server/domain/index.ts';
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
import { BLOCKED, rectifyPhoto } from '../../../server/measure/geometry/rectify-photo.ts';
import { gridToPlane } from '../../../server/measure/geometry/surface-grid.ts';
import type { SurfaceGrid } from '../../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../../server/measure/raster/plane.ts';
import type { EncodedRgbRaster } from '../../../server/measure/raster/rgb-raster.ts';
import { BRIGHTER_THAN_PAPER } from '../../../server/measure/segmentation/find-unmeasured.ts';
import { viewSurface } from '../../../server/measure/view-surface.ts';
import type { SurfaceView } from '../../../server/measure/view-surface.ts';
import { surfaceZone } from '../../../tests/accuracy/scene-truth.ts';
import { STEEL_GROUNDS, stripedSteel } from '../../../tests/support/striped-steel.ts';

const SIDE = 384;
/** Side that a zone's raster is cut to, or filled up to by mirroring as the program does. */
const ZONE_SIDE = 640;
const WINDOWS = 6;
/** So many of them look at the zone. */
const ZONE_WINDOWS = 4;
/** Chances that a scene is composed with pictures, and that its last window's colours are not normalised. */
const COMPOSED = 0.5;
const PLAIN = 0.3;
const PHOTO_SIDES = [1100, 1280, 1440, 1600, 1600, 2000, 2272, 2592] as const;
const UNKNOWN = 255;
const FINEST_MM = 0.25;
/** Share of the seeds that show stripes whatever else is drawn. */
const MORE_STRIPES = 0.35;
/** Stripes of fewer pixels to a pitch are not told from the ground. */
const LEAST_PITCH_PX = 6;
/** For every fourth seed a surface of the other renderer, and stripes on two of five. */
const STEEL_EVERY = 4;

const CARD = referenceCard();
const [firstSeed, seedStep, folder, shared] = process.argv.slice(2);
const lastSeed = Number(process.argv.at(6) ?? Infinity);
const textures = await loadTextures(shared);
mkdirSync(folder, { recursive: true });

for (let seed = Number(firstSeed); seed < lastSeed; seed += Number(seedStep)) {
  const records = await recordsOf(seed);
  if (records === null) continue;
  for (const [suffix, bytes] of Object.entries(records)) {
    // Renamed when whole, so that a reader never sees half a file.
    writeFileSync(`${folder}/${seed}.part`, bytes);
    renameSync(`${folder}/${seed}.part`, `${folder}/${seed}.${suffix}`);
  }
}

async function recordsOf(seed: number): Promise<{ win: Uint8Array; zone: Uint8Array } | null> {
  const random = randomStream(seed).branch('windows');
  const stripes = random.chance(MORE_STRIPES) ? { cleaned: true, streaks: random.pick(STREAK_KINDS) } : {};
  const options = { withCard: true, longSidePx: random.pick(PHOTO_SIDES), ...stripes };
  const composed = random.chance(COMPOSED) ? composedScene(seed, textures, options) : null;
  const spec = composed === null ? sceneFromSeed(seed, options) : composed.spec;
  const surface = composed === null ? {} : { surface: composed.surface };
  const { photo, truth } = renderScene(spec, { quickTruth: true, ...surface });
  const pitchMm = Math.min(...spec.surface.treatments.map(({ streaks }) => streaks?.pitchMm ?? Infinity));
  const truths = truthOfScene(truth, pitchMm);
  const jpeg = await throughJpeg(photo, spec.file.quality);
  const located = locatedFromTruth(truth);
  const normalisation = normaliseColour(samplePatches(jpeg, located, cardFields(located.card, null)), 'nominal');
  const view = viewSurface(jpeg, { located, normalisation }, surfaceZone(truth.zone.polygonMm));
  if (normalisation.response === null || !view.ok) return null;
  const parts: Uint8Array[] = [];
  for (let n = 0; n < WINDOWS; n++) {
    const isPlain = n === WINDOWS - 1 && random.chance(PLAIN);
    const grid = drawGrid(random.branch(`window ${n}`), truth, jpeg, n);
    parts.push(
      windowRecord(jpeg, truths, grid, { located, normalisation: isPlain ? PLAIN_SRGB : normalisation, isPlain }),
    );
  }
  const zones = [zoneRecord(view.value, truths, random)];
  if (seed % STEEL_EVERY === 0) zones.push(steelRecord(seed, random));
  return { win: Buffer.concat(parts), zone: Buffer.concat(zones) };
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

function windowRecord(photo: EncodedRgbRaster, truth: TruthAt, grid: SurfaceGrid, colours: Colours): Uint8Array {
  const { located, normalisation, isPlain } = colours;
  const mask = byteMask(SIDE, SIDE);
  mask.values.fill(1);
  const tables = responseTables(normalisation, photo.maxCode);
  const { light, blocked } = rectifyPhoto(photo, grid, { map: located.map, mask, tables });
  const lab = linearRasterToLabD50(applyNormalisation(light, grid, normalisation));
  return record({ grid, lab, blocked }, truth, { side: SIDE, column: 0, row: 0, isPlain });
}

/** The zone's raster from a drawn corner on where it is larger than ZONE_SIDE. */
function zoneRecord(view: DrawnView, truth: TruthAt, random: RandomStream): Uint8Array {
  const from = (length: number): number => Math.floor(random.uniform(0, Math.max(0, length - ZONE_SIDE) + 0.999));
  const cut = { side: ZONE_SIDE, column: from(view.grid.width), row: from(view.grid.height), isPlain: false };
  return record(view, truth, cut);
}

interface Cut {
  readonly side: number;
  /** Corner on the grid. */
  readonly column: number;
  readonly row: number;
  readonly isPlain: boolean;
}

type DrawnView = Pick<SurfaceView, 'grid' | 'lab' | 'blocked'>;

/** What is true at a pixel place of the grid. */
interface TruthAt {
  readonly classOf: (grid: SurfaceGrid, x: number, y: number) => number;
  readonly dwellOf: (grid: SurfaceGrid, x: number, y: number) => number;
}

/** Beyond the grid the colours are mirrored and the truth is unknown. */
function record(view: DrawnView, truth: TruthAt, cut: Cut): Uint8Array {
  const { grid, lab, blocked } = view;
  const { side } = cut;
  const count = side * side;
  const planes = new Int16Array(3 * count);
  const target = new Uint8Array(count).fill(UNKNOWN);
  const dwell = new Uint8Array(count / 4).fill(UNKNOWN);
  for (let i = 0; i < count; i++) {
    const [x, y] = [cut.column + (i % side), cut.row + Math.floor(i / side)];
    const at = mirrored(y, grid.height) * grid.width + mirrored(x, grid.width);
    [lab.L, lab.a, lab.b].forEach((p, k) => (planes[k * count + i] = clampCentis(p.values[at])));
    if (x >= grid.width || y >= grid.height || !isShown(blocked.values[at])) continue;
    target[i] = truth.classOf(grid, x + 0.5, y + 0.5);
    // Where a card normalises colours the program knows where it lies, and asks nothing there.
    if (target[i] === 0 && !cut.isPlain) target[i] = UNKNOWN;
    if (lab.L.values[at] > BRIGHTER_THAN_PAPER && target[i] !== UNKNOWN) target[i] = 0;
    if (((x - cut.column) | (y - cut.row)) % 2 === 0) dwell[halfPlace(i, side)] = truth.dwellOf(grid, x + 1, y + 1);
  }
  const tail = Float32Array.of(grid.step, cut.isPlain ? 1 : 0);
  return Buffer.concat([Buffer.from(planes.buffer), target, dwell, Buffer.from(tail.buffer)]);
}

/** Of clipped light it is known that it is at least so bright, and what lies round it: much can be told from that. */
function isShown(blocked: number): boolean {
  return blocked === 0 || blocked === BLOCKED.clipped;
}

/** Place at half the size of a pixel in an even row and column. */
function halfPlace(i: number, side: number): number {
  return (Math.floor(i / side) / 2) * (side / 2) + (i % side) / 2;
}

function mirrored(at: number, side: number): number {
  const period = Math.max(1, 2 * side - 2);
  return Math.min(at % period, period - (at % period));
}

function clampCentis(value: number): number {
  return Math.max(-30000, Math.min(30000, Math.round(100 * value)));
}

/** @param pitchMm of the finest stripes */
function truthOfScene({ classMap }: SceneTruth, pitchMm: number): TruthAt {
  const valueAt = (values: Uint8Array, [x, y]: readonly [number, number]): number => {
    const [gx, gy] = cardToPlane(classMap.placement, x, y);
    const column = Math.floor(gx / classMap.mmPerPixel);
    const row = Math.floor(gy / classMap.mmPerPixel);
    const isInside = column >= 0 && row >= 0 && column < classMap.width && row < classMap.height;
    return isInside ? values[row * classMap.width + column] : UNKNOWN;
  };
  const isOnCard = ([x, y]: readonly [number, number]): boolean =>
    x > -1 && y > -1 && x < CARD.widthMm + 1 && y < CARD.heightMm + 1;
  return {
    // The card itself is not measured.
    classOf: (grid, x, y) => {
      const point = gridToPlane(grid, x, y);
      return isOnCard(point) ? 0 : valueAt(classMap.codes, point);
    },
    dwellOf: (grid, x, y) => {
      const point = gridToPlane(grid, x, y);
      if (isOnCard(point)) return 0;
      const dwell = valueAt(classMap.underDwell, point);
      return dwell > 0 && pitchMm < LEAST_PITCH_PX * grid.step ? UNKNOWN : dwell;
    },
  };
}

function steelRecord(seed: number, random: RandomStream): Uint8Array {
  const turn = Math.floor(seed / STEEL_EVERY);
  const ground = STEEL_GROUNDS[random.integer(0, STEEL_GROUNDS.length - 1)];
  const kind = STREAK_KINDS[turn % STREAK_KINDS.length];
  const contrast = random.logUniform(2, 12);
  const { grid, lab, usable, truth } = stripedSteel(
    seed,
    turn % 5 < 2 ? { ground, stripes: { kind, contrast } } : { ground },
  );
  const blocked = { ...usable, values: usable.values.map((v) => 1 - v) };
  const isTooFine = truth !== null && truth.stripes.pitchMm < LEAST_PITCH_PX * grid.step;
  const dwellAt = (at: number): number => {
    if (truth === null || at >= truth.profile.length) return truth === null ? 0 : UNKNOWN;
    const dwell = Math.round(WHOLE_DWELL * Math.min(1, Math.max(0, truth.profile[at])));
    return dwell > 0 && isTooFine ? UNKNOWN : dwell;
  };
  const truths = {
    classOf: () => UNKNOWN,
    dwellOf: ({ width }: SurfaceGrid, x: number, y: number) => dwellAt(Math.floor(y) * width + Math.floor(x)),
  };
  return zoneRecord({ grid, lab, blocked }, truths, random);
}
