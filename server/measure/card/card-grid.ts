/** Where things stand on the card, mm from its top left outer corner. Design choices, no standard behind them. */

/** 6 in x 4 in, so that a picture of it has a whole number of pixels at any whole dpi. */
export const CARD_WIDTH_MM = 152.4;
export const CARD_HEIGHT_MM = 101.6;

export const MARKER_MODULES = 7;
export const MARKER_SIDE_MM = 21;
/** Bare paper around every marker: one module. */
export const QUIET_MM = 3;
export const RIGHT_MARKER_LEFT_MM = roundToMicrometre(CARD_WIDTH_MM - QUIET_MM - MARKER_SIDE_MM);
export const BOTTOM_MARKER_TOP_MM = roundToMicrometre(CARD_HEIGHT_MM - QUIET_MM - MARKER_SIDE_MM);

export const PATCH_SIDE_MM = 12;
/** Patch plus the 2 mm of paper to the next. */
const PATCH_STEP_MM = 14;
export const BLOCK_COLUMNS = 7;
const BLOCK_WIDTH_MM = (BLOCK_COLUMNS - 1) * PATCH_STEP_MM + PATCH_SIDE_MM;
export const BLOCK_LEFT_MM = roundToMicrometre((CARD_WIDTH_MM - BLOCK_WIDTH_MM) / 2);
export const BLOCK_RIGHT_MM = roundToMicrometre(BLOCK_LEFT_MM + BLOCK_WIDTH_MM);

/** Rows A to F. The white band between C and D is there to see how the light falls across the middle of the card. */
export const ROW_TOPS_MM = [3, 17, 31, 48, 62, 76] as const;
export const ROW_LETTERS = ['A', 'B', 'C', 'D', 'E', 'F'] as const;
/** Side patches stand level with rows C, D and E, centred under the markers. */
export const SIDE_ROW_TOPS_MM = [31, 48, 62] as const;
const SIDE_INSET_MM = QUIET_MM + (MARKER_SIDE_MM - PATCH_SIDE_MM) / 2;
export const SIDE_LEFT_MM = {
  L: SIDE_INSET_MM,
  R: roundToMicrometre(CARD_WIDTH_MM - SIDE_INSET_MM - PATCH_SIDE_MM),
} as const;

export const columnLeftMm = (column: number): number => roundToMicrometre(BLOCK_LEFT_MM + column * PATCH_STEP_MM);

/** Keeps sums of tenths free of binary crumbs. */
export function roundToMicrometre(millimetres: number): number {
  return Math.round(millimetres * 1000) / 1000;
}
