import type { OverlayRequest } from '../../../services/ports.ts';
import sharp from 'sharp';
import type { WorstUnitArea } from '../../../domain/index.ts';
import { surfacePoint } from '../../../domain/index.ts';
import { toPhotoPixel } from '../../../measure/geometry/photo-map.ts';
import type { SurfaceView } from '../../../measure/view-surface.ts';
import { drawLegend } from './draw-legend.ts';
import { OverlayDrawing } from './overlay-drawing.ts';
import { paintClasses } from './paint-classes.ts';
import type { PaintSize } from './paint-classes.ts';

type Vertex = readonly [number, number];

/** Long side of the overlay at most, px. */
const LONG_SIDE_PX = 2000;
/** Letters and lines are this part of the long side. */
const UNIT_PART = 1 / 170;
/** Patterns are this many units wide. */
const PATTERN_UNITS = 1;
/**
 * A palette: a quarter of the bytes that the grain of the photo takes in full colour. The overlay is looked at and nothing is
 * measured on it; at this quality the two cannot be told apart by eye, at twice the size neither.
 */
const PALETTE = { palette: true, quality: 80, dither: 0, effort: 1 } as const;

/**
 * The photo with the class map, zone, card, worst square and streaks drawn on it, and a legend below. Legible without
 * colour: classes carry patterns, lines carry a casing.
 */
export async function overlayPng(input: OverlayRequest): Promise<Buffer> {
  const { photo } = input;
  const photoPxPerPixel = Math.max(1, Math.max(photo.width, photo.height) / LONG_SIDE_PX);
  const width = Math.floor(photo.width / photoPxPerPixel);
  const height = Math.floor(photo.height / photoPxPerPixel);
  const unit = Math.max(3, UNIT_PART * Math.max(width, height));
  const size: PaintSize = { width, height, photoPxPerPixel, unit: Math.max(5, Math.round(PATTERN_UNITS * unit)) };
  const classes = paintClasses(input.view, input.segmentation, size);
  const lines = new OverlayDrawing(unit);
  drawOutlines(lines, input, photoPxPerPixel);
  const legend = drawLegend(input, { width, unit, patternUnit: size.unit });
  const picture = await sharp(photo.pixels, { raw: { width: photo.width, height: photo.height, channels: 3 } })
    .resize(width, height, { fit: 'fill' })
    .composite([
      { input: Buffer.from(classes.buffer), raw: { width, height, channels: 4 } },
      { input: Buffer.from(lines.toSvg(width, height)) },
    ])
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer();
  return sharp(picture, { raw: { width, height, channels: 3 } })
    .extend({ bottom: legend.height, background: '#ffffff' })
    .composite(legend.layers.map((layer) => ({ ...layer, top: layer.top + height })))
    .png(PALETTE)
    .toBuffer();
}

function drawOutlines(drawing: OverlayDrawing, input: OverlayRequest, scale: number): void {
  const { view, streakLines, streaks, surface } = input;
  const toPixel = (x: number, y: number): Vertex => {
    const [u, v] = toPhotoPixel(view.placed.map, surfacePoint(x, y));
    return [u / scale, v / scale];
  };
  if (!view.placed.isWholePhoto) drawing.polygon(view.placed.polygon.map(([x, y]) => toPixel(x, y)));
  if (view.located !== null) {
    const outline = view.located.outline.map(([x, y]): Vertex => [x / scale, y / scale]);
    drawing.polygon(outline, { dashed: true });
    drawing.words('reference card', middle(outline), { anchor: 'middle' });
  }
  if (streaks.found) {
    for (const line of chosenLines(streakLines)) {
      drawing.line(
        line.map(([x, y]) => toPixel(x, y)),
        { dashed: true, weight: 0.6 },
      );
    }
  }
  if (surface.worstUnitArea !== null) drawWorstSquare(drawing, view, surface.worstUnitArea, toPixel);
}

/** Lines drawn at most: enough to show how the streaks run, few enough to leave the surface in view. */
const MOST_LINES = 6;

/** The longest of each group of neighbours, spread over all of them. */
function chosenLines<Line extends readonly unknown[]>(lines: readonly Line[]): Line[] {
  if (lines.length <= MOST_LINES) return [...lines];
  return Array.from({ length: MOST_LINES }, (_, k) => {
    const group = lines.slice(
      Math.floor((k * lines.length) / MOST_LINES),
      Math.floor(((k + 1) * lines.length) / MOST_LINES),
    );
    return group.reduce((longest, line) => (line.length > longest.length ? line : longest));
  });
}

function drawWorstSquare(
  drawing: OverlayDrawing,
  view: SurfaceView,
  worst: WorstUnitArea,
  toPixel: (x: number, y: number) => Vertex,
): void {
  const half = worst.sideMm / 2;
  const c = Math.cos(view.grid.angle) * half;
  const s = Math.sin(view.grid.angle) * half;
  const [x, y] = worst.centreMm;
  const corners = [
    [-c + s, -s - c],
    [c + s, s - c],
    [c - s, s + c],
    [-c - s, -s + c],
  ].map(([dx, dy]) => toPixel(x + dx, y + dy));
  drawing.polygon(corners, { weight: 2 });
  const top = corners.reduce((best, p) => (p[1] < best[1] ? p : best));
  drawing.words(`worst square ${(100 * worst.residueFraction).toFixed(1)} %`, [middle(corners)[0], top[1]], {
    anchor: 'middle',
  });
}

const middle = (points: readonly Vertex[]): Vertex => [
  points.reduce((sum, p) => sum + p[0], 0) / points.length,
  points.reduce((sum, p) => sum + p[1], 0) / points.length,
];
