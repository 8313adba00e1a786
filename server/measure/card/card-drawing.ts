import type { CardMarker, RectangleMm, ReferenceCard, SurfacePoint } from '../../domain/index.ts';
import { surfacePoint } from '../../domain/index.ts';
import { BLOCK_LEFT_MM, BLOCK_RIGHT_MM } from './card-grid.ts';

export type Srgb8 = readonly [red: number, green: number, blue: number];
export type LetterWeight = 'regular' | 'semibold' | 'bold';
export type TextAnchor = 'start' | 'middle' | 'end';

/** Areas that do not overlap, in one flat colour: painted as one, so no seam shows where they meet. */
export interface FillShape {
  readonly kind: 'fill';
  readonly areas: readonly RectangleMm[];
  readonly colour: Srgb8;
}

/** One line of text; `at` is on the baseline, at the start, middle or end of the line. */
export interface TextShape {
  readonly kind: 'text';
  readonly text: string;
  readonly at: SurfacePoint;
  /** Height of the em square. */
  readonly sizeMm: number;
  readonly weight: LetterWeight;
  readonly anchor: TextAnchor;
  readonly colour: Srgb8;
}

/** What every print and picture of the card is made from, in the card frame (mm); later shapes cover earlier ones. */
export type Shape = FillShape | TextShape;

const BLACK: Srgb8 = [0, 0, 0];
const WHITE: Srgb8 = [255, 255, 255];
const INK: Srgb8 = [40, 42, 46];
const OUTLINE_GREY: Srgb8 = [200, 200, 200];
const OUTLINE_MM = 0.2;

export function drawCard(card: ReferenceCard): Shape[] {
  return [
    outline(card),
    ...card.markers.flatMap(drawMarker),
    ...card.patches.map((patch): FillShape => ({ kind: 'fill', areas: [patch.area], colour: patch.nominal.srgb8 })),
    ...drawTitle(card),
    ...drawScale(),
  ];
}

function outline({ widthMm, heightMm }: ReferenceCard): FillShape {
  const inner = heightMm - 2 * OUTLINE_MM;
  return {
    kind: 'fill',
    colour: OUTLINE_GREY,
    areas: [
      { x: 0, y: 0, width: widthMm, height: OUTLINE_MM },
      { x: 0, y: heightMm - OUTLINE_MM, width: widthMm, height: OUTLINE_MM },
      { x: 0, y: OUTLINE_MM, width: OUTLINE_MM, height: inner },
      { x: widthMm - OUTLINE_MM, y: OUTLINE_MM, width: OUTLINE_MM, height: inner },
    ],
  };
}

function drawMarker({ area, modules, payload }: CardMarker): FillShape[] {
  const module = area.width / modules;
  const frame = (modules - payload.length) / 2;
  const white = payload.flatMap((cells, row) =>
    // Neighbouring white cells of a row are one area.
    [...cells.matchAll(/1+/g)].map((run) => ({
      x: area.x + (frame + run.index) * module,
      y: area.y + (frame + row) * module,
      width: run[0].length * module,
      height: module,
    })),
  );
  return [
    { kind: 'fill', areas: [area], colour: BLACK },
    { kind: 'fill', areas: white, colour: WHITE },
  ];
}

const NAME_BASELINE_MM = 92.5;
const NOTE_BASELINE_MM = 95.35;
const NOTE_SIZE_MM = 2;

function drawTitle(card: ReferenceCard): TextShape[] {
  const line = (text: string, at: SurfacePoint, look: Pick<TextShape, 'sizeMm' | 'weight' | 'anchor'>): TextShape => ({
    kind: 'text',
    text,
    at,
    colour: INK,
    ...look,
  });
  const note = { sizeMm: NOTE_SIZE_MM, anchor: 'start' } as const;
  return [
    line('Bareplate reference card', surfacePoint(BLOCK_LEFT_MM, NAME_BASELINE_MM), {
      sizeMm: 3.6,
      weight: 'semibold',
      anchor: 'start',
    }),
    line(`edition ${card.edition}`, surfacePoint(BLOCK_RIGHT_MM, NAME_BASELINE_MM), {
      sizeMm: 2.6,
      weight: 'regular',
      anchor: 'end',
    }),
    line('Do not leave on the zone while the laser fires.', surfacePoint(BLOCK_LEFT_MM, NOTE_BASELINE_MM), {
      ...note,
      weight: 'bold',
    }),
    line('Print at 100 %. Cut along the grey outline.', surfacePoint(BLOCK_RIGHT_MM, NOTE_BASELINE_MM), {
      ...note,
      weight: 'regular',
      anchor: 'end',
    }),
  ];
}

const SCALE_TOP_MM = 96.4;
const SCALE_LENGTH_MM = 95;
const TICK_WIDTH_MM = 0.15;

/** A millimetre scale to lay a ruler against, left edge to left edge: tells at once whether the print is to size. */
function drawScale(): Shape[] {
  const tick = (mm: number): RectangleMm => ({
    x: BLOCK_LEFT_MM + mm,
    y: SCALE_TOP_MM,
    width: TICK_WIDTH_MM,
    height: mm % 10 === 0 ? 2.2 : mm % 5 === 0 ? 1.4 : 0.9,
  });
  const ticks = Array.from({ length: SCALE_LENGTH_MM + 1 }, (_mark, mm) => tick(mm));
  const numbers = Array.from({ length: Math.ceil(SCALE_LENGTH_MM / 10) }, (_mark, ten): TextShape => ({
    kind: 'text',
    text: ten === 0 ? '0 mm' : String(10 * ten),
    at: surfacePoint(BLOCK_LEFT_MM + 10 * ten + 0.65, SCALE_TOP_MM + 2.2),
    sizeMm: 1.5,
    weight: 'regular',
    anchor: 'start',
    colour: INK,
  }));
  return [{ kind: 'fill', areas: ticks, colour: INK }, ...numbers];
}
