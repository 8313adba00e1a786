import type { LabPlanes } from '../colour/lab-planes.ts';
import type { SurfaceGrid } from '../geometry/surface-grid.ts';
import { boxMean, boxMeans } from '../raster/box-mean.ts';
import { byteMask, plane } from '../raster/plane.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';

/**
 * What the colour segmenter looks at. Per pixel: colour with the finest noise taken off. Per block of about 1 mm, for what
 * changes slowly: the colour round it, fine grain, mottling.
 */
export interface ColourFeatures {
  /** Lab, mean of 3 x 3 pixels. */
  readonly L: Plane;
  readonly a: Plane;
  readonly b: Plane;
  /** Pixels per side of a block. */
  readonly block: number;
  /** Mean Lab within about 4.5 mm. */
  readonly aroundL: Plane;
  readonly aroundA: Plane;
  readonly aroundB: Plane;
  /** Standard deviation of L inside blocks (grain finer than 1 mm), rms over 3 x 3 blocks. */
  readonly grain: Plane;
  /** Rms of block means about their surroundings: lightness and chroma (mottling of 1 to 9 mm). */
  readonly mottleLightness: Plane;
  readonly mottleChroma: Plane;
}

const BLOCK_MM = 1;
/** Without a scale a pixel is taken for this much: a phone half a metre away. */
const ASSUMED_MM_PER_PX = 0.2;
const AROUND_BLOCKS = 4;

/** @param measured pixels that count (1) */
export function colourFeatures(lab: LabPlanes, measured: ByteMask, grid: SurfaceGrid): ColourFeatures {
  const block = blockSide(grid);
  const [L, a, b] = boxMeans([lab.L, lab.a, lab.b], measured, 1);
  return { ...blockTexture(blockMeans(lab, measured, block)), L, a, b, block };
}

/** The same of a raster whose pixels are the blocks themselves. */
export interface BlockFeatures {
  readonly features: ColourFeatures;
  /** Pixels of the finer raster per side of a block. */
  readonly side: number;
  /** 1 where a block has a measured pixel. */
  readonly filled: ByteMask;
}

/** @param measured pixels that count (1) */
export function blockFeatures(lab: LabPlanes, measured: ByteMask, grid: SurfaceGrid): BlockFeatures {
  const side = blockSide(grid);
  const blocks = blockMeans(lab, measured, side);
  const { L, a, b, filled } = blocks;
  return { features: { ...blockTexture(blocks), L, a, b, block: 1 }, side, filled };
}

function blockSide(grid: SurfaceGrid): number {
  const stepMm = grid.unit === 'mm' ? grid.step : (grid.statedMmPerPixel ?? ASSUMED_MM_PER_PX) * grid.step;
  return Math.max(2, Math.round(BLOCK_MM / stepMm));
}

function blockTexture(blocks: BlockMeans): Omit<ColourFeatures, 'L' | 'a' | 'b' | 'block'> {
  const around = boxMeans([blocks.L, blocks.a, blocks.b], blocks.filled, AROUND_BLOCKS);
  const offL = plane(blocks.L.width, blocks.L.height);
  const offChroma = plane(blocks.L.width, blocks.L.height);
  for (let i = 0; i < offL.values.length; i++) {
    offL.values[i] = (blocks.L.values[i] - around[0].values[i]) ** 2;
    offChroma.values[i] =
      (blocks.a.values[i] - around[1].values[i]) ** 2 + (blocks.b.values[i] - around[2].values[i]) ** 2;
  }
  const [mottleLightness, mottleChroma] = boxMeans([offL, offChroma], blocks.filled, AROUND_BLOCKS).map(roots);
  return {
    aroundL: around[0],
    aroundA: around[1],
    aroundB: around[2],
    grain: roots(boxMean(blocks.variance, blocks.filled, 1)),
    mottleLightness,
    mottleChroma,
  };
}

/** In place. */
function roots(squares: Plane): Plane {
  const { values } = squares;
  for (let i = 0; i < values.length; i++) values[i] = Math.sqrt(Math.max(0, values[i]));
  return squares;
}

interface BlockMeans {
  readonly L: Plane;
  readonly a: Plane;
  readonly b: Plane;
  /** Variance of L inside the block. */
  readonly variance: Plane;
  /** 1 where the block has a measured pixel. */
  readonly filled: ByteMask;
}

/** Rows of a block from which on every second one is enough. */
const ROWS_TO_SPARE = 4;

function blockMeans(lab: LabPlanes, measured: ByteMask, block: number): BlockMeans {
  const width = Math.ceil(measured.width / block);
  const height = Math.ceil(measured.height / block);
  const [L, a, b, variance] = [0, 1, 2, 3].map(() => plane(width, height));
  const [labL, labA, labB, counted] = [lab.L.values, lab.a.values, lab.b.values, measured.values];
  const counts = new Uint16Array(width * height);
  // Of fine blocks every second row says as much as all of them.
  const step = block >= ROWS_TO_SPARE ? 2 : 1;
  for (let row = 0; row < measured.height; row += step) {
    const start = Math.floor(row / block) * width;
    for (let column = 0; column < width; column++) {
      const from = row * measured.width + column * block;
      const end = row * measured.width + Math.min(measured.width, (column + 1) * block);
      let sumL = 0;
      let sumA = 0;
      let sumB = 0;
      let squares = 0;
      let count = 0;
      for (let index = from; index < end; index++) {
        if (counted[index] === 0) continue;
        const lightness = labL[index];
        sumL += lightness;
        sumA += labA[index];
        sumB += labB[index];
        squares += lightness * lightness;
        count++;
      }
      const at = start + column;
      L.values[at] += sumL;
      a.values[at] += sumA;
      b.values[at] += sumB;
      variance.values[at] += squares;
      counts[at] += count;
    }
  }
  const filled = byteMask(width, height);
  for (let at = 0; at < counts.length; at++) {
    const count = counts[at];
    if (count === 0) continue;
    filled.values[at] = 1;
    L.values[at] /= count;
    a.values[at] /= count;
    b.values[at] /= count;
    variance.values[at] = Math.max(0, variance.values[at] / count - L.values[at] ** 2);
  }
  return { L, a, b, variance, filled };
}
