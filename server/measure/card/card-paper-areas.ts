import type { RectangleMm } from '../../domain/index.ts';
import {
  BLOCK_COLUMNS,
  BLOCK_LEFT_MM,
  BOTTOM_MARKER_TOP_MM,
  CARD_HEIGHT_MM,
  CARD_WIDTH_MM,
  MARKER_SIDE_MM,
  PATCH_SIDE_MM,
  QUIET_MM,
  RIGHT_MARKER_LEFT_MM,
  ROW_TOPS_MM,
  SIDE_LEFT_MM,
  SIDE_ROW_TOPS_MM,
  columnLeftMm,
  roundToMicrometre,
} from './card-grid.ts';

/** Kept from anything printed, so that a blurred edge does not darken the paper: at the narrow rim, and elsewhere. */
const RIM_CLEARANCE_MM = 0.5;
const CLEARANCE_MM = 0.8;
const MARKER_END_MM = QUIET_MM + MARKER_SIDE_MM;

type Span = readonly [from: number, to: number];

const area = (x: Span, y: Span, clearance: number): RectangleMm => ({
  x: roundToMicrometre(x[0] + clearance),
  y: roundToMicrometre(y[0] + clearance),
  width: roundToMicrometre(x[1] - x[0] - 2 * clearance),
  height: roundToMicrometre(y[1] - y[0] - 2 * clearance),
});

/** Bare paper that can be sampled, spread over the whole card for the estimate of uneven light. */
export function paperAreas(): RectangleMm[] {
  return [...rim(), ...besideMarkers(), ...besideSidePatches(), ...middleBand()];
}

/** The strips along the outline: the outer arms of the markers' quiet zones and what lies between them. */
function rim(): RectangleMm[] {
  const between = (RIGHT_MARKER_LEFT_MM - MARKER_END_MM) / 3;
  const horizontal: Span[] = [
    [QUIET_MM, MARKER_END_MM],
    ...[0, 1, 2].map((third): Span => [MARKER_END_MM + third * between, MARKER_END_MM + (third + 1) * between]),
    [RIGHT_MARKER_LEFT_MM, CARD_WIDTH_MM - QUIET_MM],
  ];
  const vertical: Span[] = [
    [QUIET_MM, MARKER_END_MM],
    [BOTTOM_MARKER_TOP_MM, CARD_HEIGHT_MM - QUIET_MM],
  ];
  const near: Span = [0, QUIET_MM];
  return [
    ...horizontal.flatMap((x) => [near, farSide(near, CARD_HEIGHT_MM)].map((y) => area(x, y, RIM_CLEARANCE_MM))),
    ...vertical.flatMap((y) => [near, farSide(near, CARD_WIDTH_MM)].map((x) => area(x, y, RIM_CLEARANCE_MM))),
  ];
}

/** The inner arms of the quiet zones: towards the block of patches, and towards the side patches. */
function besideMarkers(): RectangleMm[] {
  const gap: Span = [MARKER_END_MM, BLOCK_LEFT_MM];
  const lastSideEnd = SIDE_ROW_TOPS_MM[SIDE_ROW_TOPS_MM.length - 1] + PATCH_SIDE_MM;
  const rows: Span[] = [
    [QUIET_MM, MARKER_END_MM],
    [BOTTOM_MARKER_TOP_MM, CARD_HEIGHT_MM - QUIET_MM],
  ];
  const ends: Span[] = [
    [MARKER_END_MM, SIDE_ROW_TOPS_MM[0]],
    [lastSideEnd, BOTTOM_MARKER_TOP_MM],
  ];
  return bothSides(gap)
    .flatMap((x) => rows.map((y) => area(x, y, CLEARANCE_MM)))
    .concat(bothSides([QUIET_MM, MARKER_END_MM]).flatMap((x) => ends.map((y) => area(x, y, CLEARANCE_MM))));
}

/** Wide fields left and right of every side patch. */
function besideSidePatches(): RectangleMm[] {
  const columns: Span[] = [
    [0, SIDE_LEFT_MM.L],
    [SIDE_LEFT_MM.L + PATCH_SIDE_MM, BLOCK_LEFT_MM],
  ];
  return columns
    .flatMap((span) => bothSides(span))
    .flatMap((x) => SIDE_ROW_TOPS_MM.map((top) => area(x, [top, top + PATCH_SIDE_MM], CLEARANCE_MM)));
}

/** The band between rows C and D, one field under every patch. */
function middleBand(): RectangleMm[] {
  const y: Span = [ROW_TOPS_MM[2] + PATCH_SIDE_MM, ROW_TOPS_MM[3]];
  const lefts = [
    SIDE_LEFT_MM.L,
    ...Array.from({ length: BLOCK_COLUMNS }, (_column, index) => columnLeftMm(index)),
    SIDE_LEFT_MM.R,
  ];
  return lefts.map((left) => area([left, left + PATCH_SIDE_MM], y, CLEARANCE_MM));
}

const farSide = ([from, to]: Span, size: number): Span => [size - to, size - from];
const bothSides = (span: Span): [Span, Span] => [span, farSide(span, CARD_WIDTH_MM)];
