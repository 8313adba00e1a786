import type { CardMarker, CardPatch, MarkerCorner, ReferenceCard } from '../../domain/index.ts';
import { MARKER_CORNERS } from '../../domain/index.ts';
import {
  BOTTOM_MARKER_TOP_MM,
  CARD_HEIGHT_MM,
  CARD_WIDTH_MM,
  MARKER_MODULES,
  MARKER_SIDE_MM,
  PATCH_SIDE_MM,
  QUIET_MM,
  RIGHT_MARKER_LEFT_MM,
  ROW_LETTERS,
  ROW_TOPS_MM,
  SIDE_LEFT_MM,
  SIDE_ROW_TOPS_MM,
  columnLeftMm,
} from './card-grid.ts';
import { paperAreas } from './card-paper-areas.ts';
import { CHROMATIC_ROWS, NEUTRAL_RAMP } from './card-patch-values.ts';
import type { PatchValue } from './card-patch-values.ts';
import { cornerPayload } from './code-book.ts';

/** The edition that is printed and read today. */
export const CURRENT_EDITION = 0;

/**
 * Places in the neutral ramp, top to bottom, so that each grey stands far from its twins in rows A and F and from the
 * one on the other side.
 */
const SIDE_NEUTRALS = { L: [5, 3, 1], R: [1, 3, 5] } as const;

/**
 * The printed reference card: four coded corners for the geometry, 48 patches and bare paper for the colour.
 * Patches are named by row and column (A1 to F7), those at the sides L1 to L3 and R1 to R3 from the top.
 * @throws RangeError for an edition without a layout
 */
export function referenceCard(edition: number = CURRENT_EDITION): ReferenceCard {
  if (edition !== CURRENT_EDITION) throw new RangeError(`Expected edition ${CURRENT_EDITION} but received ${edition}`);
  return {
    schema: 'bareplate/reference-card@1',
    edition,
    widthMm: CARD_WIDTH_MM,
    heightMm: CARD_HEIGHT_MM,
    markers: MARKER_CORNERS.map((corner) => markerAt(corner, edition)),
    patches: [...blockPatches(), ...sidePatches()],
    // Nominal values are relative to the paper, as drawn: see card-patch-values.ts.
    paper: { lab: { L: 100, a: 0, b: 0 }, areas: paperAreas() },
  };
}

function markerAt(corner: MarkerCorner, edition: number): CardMarker {
  const isRight = corner === 'topRight' || corner === 'bottomRight';
  const isBottom = corner === 'bottomLeft' || corner === 'bottomRight';
  return {
    corner,
    area: {
      x: isRight ? RIGHT_MARKER_LEFT_MM : QUIET_MM,
      y: isBottom ? BOTTOM_MARKER_TOP_MM : QUIET_MM,
      width: MARKER_SIDE_MM,
      height: MARKER_SIDE_MM,
    },
    modules: MARKER_MODULES,
    payload: cornerPayload(edition, corner),
  };
}

function blockPatches(): CardPatch[] {
  const rows = [NEUTRAL_RAMP, ...CHROMATIC_ROWS, NEUTRAL_RAMP.toReversed()];
  return rows.flatMap((values, row) =>
    values.map((value, column) =>
      patchAt([columnLeftMm(column), ROW_TOPS_MM[row]], `${ROW_LETTERS[row]}${column + 1}`, value),
    ),
  );
}

function sidePatches(): CardPatch[] {
  return (['L', 'R'] as const).flatMap((side) =>
    SIDE_ROW_TOPS_MM.map((top, index) =>
      patchAt([SIDE_LEFT_MM[side], top], `${side}${index + 1}`, NEUTRAL_RAMP[SIDE_NEUTRALS[side][index]]),
    ),
  );
}

function patchAt([x, y]: readonly [number, number], id: string, value: PatchValue): CardPatch {
  return {
    id,
    family: value.family,
    area: { x, y, width: PATCH_SIDE_MM, height: PATCH_SIDE_MM },
    nominal: { lab: { ...value.lab }, srgb8: [...value.srgb8] },
  };
}
