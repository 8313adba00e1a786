import { SURFACE_CLASSES, measuredShare } from '../../domain/index.ts';
import type { Measured, Round, Surface, SurfaceInPhoto } from '../../domain/index.ts';
import type { DecidedAnew } from '../../domain/api/corrections.ts';
import { gradeSurface } from '../grade/grade-surface.ts';
import { worstSquareShares } from '../grade/worst-square-shares.ts';
import { worstUnitAreas } from '../residue/worst-unit-area.ts';
import type { CorrectedShares } from './correct-surface.ts';
import { mapOnGrid } from './map-on-grid.ts';
import type { MapInPhoto } from './map-on-grid.ts';

/** What was measured on the map before people painted on it, and what its zone looks like. */
export interface MeasuredBefore {
  readonly surface: Surface;
  /** Null without a card in view: then there is no unit area to search. */
  readonly inPhoto: SurfaceInPhoto | null;
  /** Absent for a before photo: only what is left is graded. */
  readonly graded?: { readonly scrapeTest?: Round['scrapeTest'] };
}

/**
 * Decides anew on a corrected map by the rules that measured maps are judged by: worst unit area, and the published grades.
 * Where nothing was painted the segmenter may be wrong as before, so the interval of a share is the measured one, moved with
 * the share and narrowed by the square root of the part left: independent errors shrink so, shared ones faster, and the wider
 * is taken. What a person painted is that person's word.
 */
export function decideAnew(shares: CorrectedShares, map: MapInPhoto, measured: MeasuredBefore): DecidedAnew {
  const left = Math.sqrt(1 - shares.paintedFraction);
  const fractions = Object.fromEntries(
    SURFACE_CLASSES.map((name) => [name, carriedOver(measured.surface.fractions[name], shares.fractions[name], left)]),
  ) as Surface['fractions'];
  const residue = carriedOver(measured.surface.residue, shares.residue, left);
  const worst = measured.inPhoto === null ? null : worstUnitAreas(mapOnGrid(map, measured.inPhoto));
  return {
    residue,
    stain: fractions.stain,
    paintedFraction: shares.paintedFraction,
    worstUnitArea: worst?.residue ?? null,
    grades:
      measured.graded === undefined
        ? []
        : gradeSurface(
            { residue, fractions },
            {
              worst: worst === null ? null : worstSquareShares({ residue, fractions }, worst),
              ...measured.graded,
            },
          ),
  };
}

const carriedOver = ({ value, low, high }: Measured, share: number, left: number): Measured =>
  measuredShare(share, share - left * (value - low), share + left * (high - value));
