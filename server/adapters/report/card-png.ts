import sharp from 'sharp';
import type { ReferenceCard } from '../../domain/index.ts';
import type { TextShape } from '../../measure/card/card-drawing.ts';
import { drawCard } from '../../measure/card/card-drawing.ts';
import type { Coverage, FlatCanvas } from './flat-canvas.ts';
import { fillAreas, flatCanvas, paintCoverage } from './flat-canvas.ts';
import { textPath, textWidth } from './letter-shapes.ts';

/** Below, the markers' cells are under 9 px; above, the picture outgrows what printers resolve. */
export const CARD_PNG_DPI = { least: 72, most: 1200 } as const;
const MM_PER_INCH = 25.4;

/**
 * The card as a picture: exactly its outline, nothing around it, so that its size in mm is pixels / dpi x 25.4.
 * @param dpi whole number from {@link CARD_PNG_DPI}
 * @throws RangeError for any other dpi
 */
export async function cardPng(card: ReferenceCard, dpi: number): Promise<Buffer> {
  if (!Number.isInteger(dpi) || dpi < CARD_PNG_DPI.least || dpi > CARD_PNG_DPI.most) {
    throw new RangeError(
      `Expected a whole number of dpi from ${CARD_PNG_DPI.least} to ${CARD_PNG_DPI.most} but received ${dpi}`,
    );
  }
  const pixelsPerMm = dpi / MM_PER_INCH;
  const canvas = flatCanvas(
    Math.round(card.widthMm * pixelsPerMm),
    Math.round(card.heightMm * pixelsPerMm),
    pixelsPerMm,
  );
  for (const shape of drawCard(card)) {
    if (shape.kind === 'fill') fillAreas(canvas, shape.areas, shape.colour);
    else paintCoverage(canvas, await textCoverage(canvas, shape), shape.colour);
  }
  const { width, height, pixels } = canvas;
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .withDensity(dpi)
    .png({ compressionLevel: 9, adaptiveFiltering: true })
    .toBuffer();
}

/** How much of each pixel the letters cover: their outlines drawn black on nothing, and the opacity read back. */
async function textCoverage({ pixelsPerMm }: FlatCanvas, shape: TextShape): Promise<Coverage> {
  const size = shape.sizeMm * pixelsPerMm;
  const long = textWidth(shape.text, { sizeMm: size, weight: shape.weight });
  const before = { start: 0, middle: long / 2, end: long }[shape.anchor];
  const [x, y] = [shape.at[0] * pixelsPerMm, shape.at[1] * pixelsPerMm];
  // A quarter em of room around: overhangs, and what stands below the baseline.
  const left = Math.floor(x - before - size / 4);
  const top = Math.floor(y - size);
  const width = Math.ceil(long + size / 2) + 1;
  const height = Math.ceil(1.4 * size) + 1;
  const path = textPath(shape.text, {
    x: x - left,
    y: y - top,
    sizeMm: size,
    weight: shape.weight,
    anchor: shape.anchor,
  });
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><path d="${path}"/></svg>`;
  const { data, info } = await sharp(Buffer.from(svg)).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  const values = Float32Array.from({ length: width * height }, (_pixel, index) => {
    return data[index * info.channels + info.channels - 1] / 255;
  });
  return { left, top, width, height, values };
}
