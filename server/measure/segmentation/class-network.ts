import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';

/** What the network is told beside the picture. */
export interface NetworkScale {
  /** mm per pixel of the raster. */
  readonly stepMm: number;
  readonly isColourNormalised: boolean;
}

/** Log odds per pixel up to a constant: not measured, then the classes in the order of SURFACE_CLASSES. */
export interface ClassLogits {
  readonly width: number;
  readonly height: number;
  readonly planes: readonly Float32Array[];
}

/**
 * Log odds of `width` x `height` pixels of the raster that lie `step` apart, in planes that may hold more: `first` is the
 * index of the first of them there.
 */
export interface LogitTile extends ClassLogits {
  /** Where the first of them lies in the raster. */
  readonly column: number;
  readonly row: number;
  /** 1: every pixel of a rectangle; 2: every second one, in both directions. */
  readonly step: number;
  readonly first: number;
  /** From a pixel to the one below it. */
  readonly stride: number;
  /**
   * Log odds that a place lacked dwell under the last round, as stripes and seams show it, in a plane of the same build; null
   * where the network does not tell.
   */
  readonly underDwell: Float32Array | null;
}

/** A trained network that tells classes apart from Lab D50. */
export interface ClassNetwork {
  /**
   * Hands over the raster tile by tile, each pixel once, so that no one needs to hold the odds of all of it.
   * @param take must not keep the planes: they are written over
   * @param meanwhile the caller's own work, done once while the network is at its first tile; not done where the network is missing
   * @returns the network's name with its version
   */
  classify(
    lab: LabPlanes,
    scale: NetworkScale,
    take: (tile: LogitTile) => void,
    meanwhile?: () => void,
  ): Promise<Outcome<string>>;
}

/** Odds of a whole raster as one tile. */
export const wholeTile = (logits: ClassLogits): LogitTile => ({
  ...logits,
  column: 0,
  row: 0,
  step: 1,
  first: 0,
  stride: logits.width,
  underDwell: null,
});

const CLASSES = 6;

/** The odds of all of a raster at once. */
export async function wholeLogits(
  network: ClassNetwork,
  lab: LabPlanes,
  scale: NetworkScale,
): Promise<Outcome<{ network: string; logits: ClassLogits }>> {
  const { width, height } = lab.L;
  const planes = Array.from({ length: CLASSES }, () => new Float32Array(width * height));
  const name = await network.classify(lab, scale, (tile) => {
    planes.forEach((plane, k) => {
      placeValues(tile.planes[k], tile, plane, width);
    });
  });
  return name.ok ? success({ network: name.value, logits: { width, height, planes } }) : name;
}

function placeValues(values: Float32Array, tile: LogitTile, into: Float32Array, width: number): void {
  for (let y = 0; y < tile.height; y++) {
    const from = tile.first + y * tile.stride;
    const to = (tile.row + y * tile.step) * width + tile.column;
    for (let x = 0; x < tile.width; x++) into[to + x * tile.step] = values[from + x];
  }
}
