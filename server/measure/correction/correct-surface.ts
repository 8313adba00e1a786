import { CLASS_CODE, fraction, NOT_MEASURED_CODE, RESIDUE_CLASSES, SURFACE_CLASSES } from '../../domain/index.ts';
import type { Fraction } from '../../domain/index.ts';
import type { CorrectedSurface } from '../../domain/api/corrections.ts';
import type { ClassMap } from '../../domain/paint-class-map.ts';
import { OUTSIDE_CODE } from '../../domain/paint-class-map.ts';

/** What is counted on a corrected map; what is decided on it comes from `decideAnew`. */
export interface CorrectedShares extends Omit<CorrectedSurface, 'decided'> {
  /** Share of the zone that people spoke for: painted over, with another class or with the one it had. */
  readonly paintedFraction: Fraction;
}

export interface CorrectedMaps {
  readonly before: ClassMap;
  readonly after: ClassMap;
  /** 1 where a brush or an outline went, whatever class it painted. */
  readonly painted: Uint8Array;
}

/**
 * Shares of a class map after people corrected it. A pixel counts with the area of surface it stands for, which grows
 * towards the far side of a tilted photo: |det H| / |w|^3 for a homography H with depth w. What the lens bends is left out
 * (below 1 % of the area for phones). Source: [HARTLEY2004].
 *
 * @param planeFromMap homography from the map's pixels to the plane, row-major 3 x 3
 * @returns null when nothing of the zone is measured
 */
export function correctSurface(
  { before, after, painted }: CorrectedMaps,
  planeFromMap: readonly number[],
): CorrectedShares | null {
  const areas = new Float64Array(OUTSIDE_CODE);
  let changed = 0;
  let spokenFor = 0;
  for (let y = 0, index = 0; y < after.height; y++) {
    for (let x = 0; x < after.width; x++, index++) {
      const code = after.codes[index];
      if (code === OUTSIDE_CODE) continue;
      const area = pixelArea(planeFromMap, x + 0.5, y + 0.5);
      areas[code] += area;
      const isChanged = code !== before.codes[index];
      if (isChanged) changed += area;
      if (isChanged || painted[index] !== 0) spokenFor += area;
    }
  }
  const unmeasured = areas[NOT_MEASURED_CODE];
  const measured = SURFACE_CLASSES.reduce((sum, name) => sum + areas[CLASS_CODE[name]], 0);
  if (measured === 0) return null;
  const share = (name: (typeof SURFACE_CLASSES)[number]): number => areas[CLASS_CODE[name]] / measured;
  return {
    fractions: {
      bare: fraction(share('bare')),
      stain: fraction(share('stain')),
      rust: fraction(share('rust')),
      scale: fraction(share('scale')),
      coating: fraction(share('coating')),
    },
    residue: fraction(
      Math.min(
        1,
        RESIDUE_CLASSES.reduce((sum, name) => sum + share(name), 0),
      ),
    ),
    unmeasuredFraction: fraction(unmeasured / (measured + unmeasured)),
    changedFraction: fraction(Math.min(1, changed / (measured + unmeasured))),
    paintedFraction: fraction(Math.min(1, spokenFor / (measured + unmeasured))),
  };
}

/** Relative area of a pixel; the common factor |det H| cancels in shares. */
function pixelArea(h: readonly number[], x: number, y: number): number {
  const depth = h[6] * x + h[7] * y + h[8];
  return 1 / Math.abs(depth * depth * depth);
}
