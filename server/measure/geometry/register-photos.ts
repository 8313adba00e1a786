import type { LocatedCard } from '../card/locate-card.ts';
import type { GreyRaster } from '../raster/plane.ts';
import { byteMask } from '../raster/plane.ts';
import { fillPolygon } from '../raster/polygon-mask.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import { srgbDecodeTable } from '../colour/srgb.ts';
import type { VisionKernel } from '../vision-kernel.ts';
import { fitRigidMotion } from './fit-rigid-motion.ts';
import type { RigidMotion } from './fit-rigid-motion.ts';
import { placeZone } from './place-zone.ts';
import { rectifyPhoto } from './rectify-photo.ts';
import { gridToPlane, layGrid, planeToGrid } from './surface-grid.ts';
import type { SurfaceGrid } from './surface-grid.ts';

/** How the after photo's surface lies on the before photo's. Nothing that is measured depends on it. */
export interface Registration {
  /** From the after photo's card frame to the before photo's. */
  readonly motion: RigidMotion;
  readonly marksMatched: number;
  readonly rmsMm: number;
}

export interface RegisteredPhoto {
  readonly photo: EncodedRgbRaster;
  readonly located: LocatedCard;
}

/** Marks are sought on a raster of about this step: scratches, edges and rust pits show, grain does not. */
const STEP_MM = 0.8;
const MOST_PIXELS = 500_000;
const MOST_KEYPOINTS = 800;
const TOLERANCE_MM = 1.5;
/** Chance alone brings a handful of marks together; fewer than this, or a small part, is no registration. */
const LEAST_MARKS = 14;
const LEAST_MARK_SHARE = 0.06;
const CARD_MARGIN_MM = 12;
/** Grey that stands for the card and for what is out of the photo. */
const NEUTRAL = 118;

/**
 * Brings the after photo onto the before photo by marks that both show round the zone.
 * @returns null when too few marks agree: freshly cleaned and unmarked steel has none in common
 */
export function registerPhotos(
  before: RegisteredPhoto,
  after: RegisteredPhoto,
  kernel: VisionKernel,
): Registration | null {
  const from = surroundings(after);
  const to = surroundings(before);
  if (from === null || to === null) return null;
  const matches = kernel
    .matchKeypoints(from.grey, to.grey, MOST_KEYPOINTS)
    .filter(
      ({ first, second }) => !isOnCard(from.grid, after.located, first) && !isOnCard(to.grid, before.located, second),
    );
  const pairs = matches.map(({ first, second }) => ({
    from: gridToPlane(from.grid, first[0], first[1]),
    to: gridToPlane(to.grid, second[0], second[1]),
  }));
  const fit = fitRigidMotion(pairs, TOLERANCE_MM);
  if (fit === null || fit.inliers.length < Math.max(LEAST_MARKS, LEAST_MARK_SHARE * pairs.length)) return null;
  return { motion: fit.motion, marksMatched: fit.inliers.length, rmsMm: fit.rms };
}

function isOnCard(grid: SurfaceGrid, located: LocatedCard, [column, row]: readonly [number, number]): boolean {
  const [x, y] = gridToPlane(grid, column, row);
  const { widthMm, heightMm } = located.card;
  const m = CARD_MARGIN_MM;
  return x > -m && y > -m && x < widthMm + m && y < heightMm + m;
}

function surroundings({ photo, located }: RegisteredPhoto): { grid: SurfaceGrid; grey: GreyRaster } | null {
  const placing = placeZone(null, located, photo);
  if (!placing.ok) return null;
  const grid = layGrid(placing.value.polygon, 'mm', STEP_MM, MOST_PIXELS);
  const mask = byteMask(grid.width, grid.height);
  fillPolygon(
    mask,
    placing.value.polygon.map(([x, y]) => planeToGrid(grid, x, y)),
    1,
  );
  const decode = srgbDecodeTable(photo.maxCode);
  const { light, blocked } = rectifyPhoto(photo, grid, {
    map: located.map,
    mask,
    tables: [decode, decode, decode],
  });
  const values = new Uint8Array(mask.values.length);
  for (let i = 0; i < values.length; i++) {
    const isSeen = mask.values[i] !== 0 && blocked.values[i] === 0;
    // A cube root stands in for lightness: marks in the dark count as much as marks in the light.
    values[i] = isSeen ? Math.min(255, 255 * Math.cbrt(light.pixels[3 * i + 1])) : NEUTRAL;
  }
  return { grid, grey: { width: grid.width, height: grid.height, values } };
}
