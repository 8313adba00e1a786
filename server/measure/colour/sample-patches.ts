import type { CardPatch, LabD50, RectangleMm } from '../../domain/index.ts';
import { surfacePoint } from '../../domain/index.ts';
import type { LocatedCard } from '../card/locate-card.ts';
import { photoDerivative, toPhotoPixel } from '../geometry/photo-map.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import { srgbDecodeTable } from './srgb.ts';

/** One printed field, or a piece of bare paper, as the photo shows it. */
export interface PatchSample {
  readonly id: string;
  readonly family: CardPatch['family'] | 'paper';
  /** Centre on the card, mm. */
  readonly centreMm: readonly [x: number, y: number];
  /** What it should be. */
  readonly lab: LabD50;
  /** Mean of the sRGB-decoded codes, 0..1 per channel. */
  readonly decoded: readonly [r: number, g: number, b: number];
  /** Rms scatter of decoded green over its mean, from part to part of the field: dirt and edges of shadow, not the camera's noise. */
  readonly scatter: number;
  /** Part of the field's pixels with a channel at the end of the code range. */
  readonly clippedShare: number;
}

/** Part of each side that is sampled: blur mixes the rims, and a card shifted by a pixel still hits. */
const INNER_PART = 0.62;
const MOST_TAPS_PER_SIDE = 24;
/** Codes this near the ends of the range are taken as clipped, in parts of the range. */
const CLIP_MARGIN = 1.5 / 255;
/** Values outside these quantiles are trimmed: specks, letters, scratches. */
const TRIM = 0.1;

export interface PatchField {
  readonly id: string;
  readonly family: PatchSample['family'];
  readonly area: RectangleMm;
  readonly lab: LabD50;
}

/** Samples every field of the card; the order is that of `fields`. */
export function samplePatches(
  photo: EncodedRgbRaster,
  located: LocatedCard,
  fields: readonly PatchField[],
): PatchSample[] {
  const decode = srgbDecodeTable(photo.maxCode);
  return fields.map((field) => sampleField(photo, located, field, decode));
}

function sampleField(
  photo: EncodedRgbRaster,
  located: LocatedCard,
  field: PatchField,
  decode: Float32Array,
): PatchSample {
  const { area } = field;
  const centre = surfacePoint(area.x + area.width / 2, area.y + area.height / 2);
  const [a, b, c, d] = photoDerivative(located.map, centre);
  const columns = tapsFor(area.width * Math.hypot(a, c));
  const rows = tapsFor(area.height * Math.hypot(b, d));
  const reds: number[] = [];
  const greens: number[] = [];
  const blues: number[] = [];
  let clipped = 0;
  const low = photo.maxCode * CLIP_MARGIN;
  const high = photo.maxCode - low;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = area.x + area.width * (0.5 + INNER_PART * ((column + 0.5) / columns - 0.5));
      const y = area.y + area.height * (0.5 + INNER_PART * ((row + 0.5) / rows - 0.5));
      const [u, v] = toPhotoPixel(located.map, surfacePoint(x, y));
      const index = pixelIndex(photo, u, v);
      const codes = [photo.pixels[index], photo.pixels[index + 1], photo.pixels[index + 2]];
      if (codes.some((code) => code >= high) || codes.every((code) => code <= low)) clipped++;
      reds.push(decode[codes[0]]);
      greens.push(decode[codes[1]]);
      blues.push(decode[codes[2]]);
    }
  }
  const channels = [reds, greens, blues].map(trimmedMean);
  return {
    id: field.id,
    family: field.family,
    centreMm: [centre[0], centre[1]],
    lab: field.lab,
    decoded: [channels[0], channels[1], channels[2]],
    scatter: partScatter(greens, columns, rows) / Math.max(channels[1], 1e-4),
    clippedShare: clipped / (columns * rows),
  };
}

/** Parts a field is cut into per side. */
const PARTS_PER_SIDE = 4;

/** Rms scatter of the means of parts, less what the scatter inside the parts lets expect of it. */
function partScatter(values: readonly number[], columns: number, rows: number): number {
  const [across, down] = [Math.min(PARTS_PER_SIDE, columns), Math.min(PARTS_PER_SIDE, rows)];
  const parts = across * down;
  const [counts, sums, squares] = [new Float64Array(parts), new Float64Array(parts), new Float64Array(parts)];
  values.forEach((value, i) => {
    const part =
      Math.floor((Math.floor(i / columns) * down) / rows) * across + Math.floor(((i % columns) * across) / columns);
    counts[part]++;
    sums[part] += value;
    squares[part] += value * value;
  });
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  let between = 0;
  for (let part = 0; part < parts; part++) {
    const own = sums[part] / counts[part];
    // A part of one pixel shows no scatter of its own.
    const inside = counts[part] < 2 ? 0 : (squares[part] - counts[part] * own * own) / (counts[part] - 1);
    between += (own - mean) ** 2 - inside / counts[part];
  }
  return Math.sqrt(Math.max(0, between / parts));
}

const tapsFor = (lengthPx: number): number =>
  Math.min(MOST_TAPS_PER_SIDE, Math.max(2, Math.floor(lengthPx * INNER_PART)));

function pixelIndex(photo: EncodedRgbRaster, x: number, y: number): number {
  const column = Math.min(Math.max(Math.floor(x), 0), photo.width - 1);
  const row = Math.min(Math.max(Math.floor(y), 0), photo.height - 1);
  return 3 * (row * photo.width + column);
}

function trimmedMean(values: number[]): number {
  const sorted = Float64Array.from(values).sort();
  const cut = Math.floor(sorted.length * TRIM);
  let sum = 0;
  for (let i = cut; i < sorted.length - cut; i++) sum += sorted[i];
  return sum / (sorted.length - 2 * cut);
}
