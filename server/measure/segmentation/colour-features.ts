import type { LabPlanes } from '../colour/lab-planes.ts';
import type { SurfaceGrid } from '../geometry/surface-grid.ts';
import { boxMean } from '../raster/box-mean.ts';
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
  const stepMm = grid.unit === 'mm' ? grid.step : (grid.statedMmPerPixel ?? ASSUMED_MM_PER_PX) * grid.step;
  const block = Math.max(2, Math.round(BLOCK_MM / stepMm));
  const blocks = blockMeans(lab, measured, block);
  const around = [blocks.L, blocks.a, blocks.b].map((p) => boxMean(p, blocks.filled, AROUND_BLOCKS));
  const rms = (square: Plane, radius: number): Plane => {
    const mean = boxMean(square, blocks.filled, radius);
    for (let i = 0; i < mean.values.length; i++) mean.values[i] = Math.sqrt(Math.max(0, mean.values[i]));
    return mean;
  };
  const offL = plane(blocks.L.width, blocks.L.height);
  const offChroma = plane(blocks.L.width, blocks.L.height);
  for (let i = 0; i < offL.values.length; i++) {
    offL.values[i] = (blocks.L.values[i] - around[0].values[i]) ** 2;
    offChroma.values[i] =
      (blocks.a.values[i] - around[1].values[i]) ** 2 + (blocks.b.values[i] - around[2].values[i]) ** 2;
  }
  return {
    L: boxMean(lab.L, measured, 1),
    a: boxMean(lab.a, measured, 1),
    b: boxMean(lab.b, measured, 1),
    block,
    aroundL: around[0],
    aroundA: around[1],
    aroundB: around[2],
    grain: rms(blocks.variance, 1),
    mottleLightness: rms(offL, AROUND_BLOCKS),
    mottleChroma: rms(offChroma, AROUND_BLOCKS),
  };
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

function blockMeans(lab: LabPlanes, measured: ByteMask, block: number): BlockMeans {
  const width = Math.ceil(measured.width / block);
  const height = Math.ceil(measured.height / block);
  const [L, a, b, variance] = [0, 1, 2, 3].map(() => plane(width, height));
  const counts = new Uint16Array(width * height);
  for (let row = 0, index = 0; row < measured.height; row++) {
    const start = Math.floor(row / block) * width;
    for (let column = 0; column < measured.width; column++, index++) {
      if (measured.values[index] === 0) continue;
      const at = start + Math.floor(column / block);
      const lightness = lab.L.values[index];
      L.values[at] += lightness;
      a.values[at] += lab.a.values[index];
      b.values[at] += lab.b.values[index];
      variance.values[at] += lightness * lightness;
      counts[at]++;
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
