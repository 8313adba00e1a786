import type { SurfaceInput } from './streak-finding.ts';
import type { WeighedSurface } from './surface/reduce-surface.ts';

/** Without a card the photo is taken to lie this many mm to the pixel: only the scale of the search depends on it, no result. */
const ASSUMED_MM_PER_PIXEL = 0.2;
export const mmPerUnitOf = ({ grid }: Pick<SurfaceInput, 'grid'>): number =>
  grid.unit === 'mm' ? 1 : ASSUMED_MM_PER_PIXEL;

/** The working raster as the search for streaks takes it. */
export function nativeSurface(
  { grid, lab, usable, residueProbability, underDwellProbability }: SurfaceInput,
  mmPerUnit: number,
): WeighedSurface {
  return {
    width: grid.width,
    height: grid.height,
    stepMm: grid.step * mmPerUnit,
    weight: usable.values,
    L: lab.L.values,
    a: lab.a.values,
    b: lab.b.values,
    residue: residueProbability?.values ?? null,
    underDwell: underDwellProbability?.values ?? null,
  };
}

/** Probability of the classes that streaks leave, pixel by pixel of the working raster. */
export interface FilmShares {
  readonly stain: Float32Array;
  readonly rust: Float32Array;
  readonly scale: Float32Array;
}

export const filmShares = ({ filmProbability: films }: SurfaceInput): FilmShares | null =>
  films === null ? null : { stain: films.stain.values, rust: films.rust.values, scale: films.scale.values };
