import { CLASS_CODE, UNIT_AREA_SIDE_MM, fraction } from '../../domain/index.ts';
import type { WorstUnitArea } from '../../domain/index.ts';
import { gridToPlane } from '../geometry/surface-grid.ts';
import type { SurfaceGrid } from '../geometry/surface-grid.ts';
import { rectangleSum, summedAreaTable } from '../raster/summed-area-table.ts';
import type { ByteMask } from '../raster/plane.ts';

/** A unit area may miss this share of its pixels at the zone's rim: the step of the raster. */
const MOST_OUTSIDE = 0.01;
/** At least this share of a unit area must be measured for it to be judged. */
const LEAST_MEASURED = 0.5;
const DEGREES_PER_RADIAN = 180 / Math.PI;

export interface UnitAreaSearch {
  readonly grid: SurfaceGrid;
  readonly zone: ByteMask;
  /** CLASS_CODE per pixel, 0 where nothing was measured. */
  readonly codes: ByteMask;
}

/** The unit area with the most residue, and the one with the most stain (SP 10 and SP 6 limit stain, SP 14 residue). */
export interface WorstUnitAreas {
  readonly residue: WorstUnitArea;
  readonly stain: WorstUnitArea;
}

/**
 * Exact search: every position of the 76 mm square, sides along the grid, that lies in the zone.
 * @returns null when no such square fits
 */
export function worstUnitAreas(search: UnitAreaSearch): WorstUnitAreas | null {
  const { grid } = search;
  const side = Math.round(UNIT_AREA_SIDE_MM / grid.step);
  if (grid.unit !== 'mm' || side > grid.width || side > grid.height) return null;
  const counts = unitAreaCounts(search, side);
  let worstResidue: Found | null = null;
  let worstStain: Found | null = null;
  for (let top = 0; top + side <= grid.height; top++) {
    for (let left = 0; left + side <= grid.width; left++) {
      if (!counts.at(left, top)) continue;
      const residue = counts.residueShare();
      const stain = counts.stainShare();
      if (worstResidue === null || residue > worstResidue.share) worstResidue = { share: residue, left, top };
      if (worstStain === null || stain > worstStain.share) worstStain = { share: stain, left, top };
    }
  }
  if (worstResidue === null || worstStain === null) return null;
  const describe = ({ left, top }: Found): WorstUnitArea => {
    counts.at(left, top);
    const [x, y] = gridToPlane(grid, left + side / 2, top + side / 2);
    return {
      sideMm: UNIT_AREA_SIDE_MM,
      residueFraction: fraction(counts.residueShare()),
      stainFraction: fraction(counts.stainShare()),
      centreMm: [x, y],
      turnDegrees: grid.angle * DEGREES_PER_RADIAN,
    };
  };
  return { residue: describe(worstResidue), stain: describe(worstStain) };
}

interface Found {
  readonly share: number;
  readonly left: number;
  readonly top: number;
}

interface UnitAreaCounts {
  /** Looks at the square with this corner; false when it leaves the zone or too little of it is measured. */
  at(left: number, top: number): boolean;
  residueShare(): number;
  stainShare(): number;
}

function unitAreaCounts({ grid, zone, codes }: UnitAreaSearch, side: number): UnitAreaCounts {
  const { width, height } = grid;
  const c = codes.values;
  const inZone = summedAreaTable(width, height, (i) => zone.values[i]);
  const measured = summedAreaTable(width, height, (i) => (c[i] === 0 ? 0 : 1));
  const residue = summedAreaTable(width, height, (i) => (c[i] >= CLASS_CODE.rust ? 1 : 0));
  const stained = summedAreaTable(width, height, (i) => (c[i] === CLASS_CODE.stain ? 1 : 0));
  const box = { left: 0, top: 0, right: side, bottom: side };
  let counted = 0;
  return {
    at: (left, top) => {
      box.left = left;
      box.top = top;
      box.right = left + side;
      box.bottom = top + side;
      counted = rectangleSum(measured, box);
      return rectangleSum(inZone, box) >= (1 - MOST_OUTSIDE) * side * side && counted >= LEAST_MEASURED * side * side;
    },
    residueShare: () => rectangleSum(residue, box) / counted,
    stainShare: () => rectangleSum(stained, box) / counted,
  };
}
