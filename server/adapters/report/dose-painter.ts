import sharp from 'sharp';
import type { DosePicture } from '../../domain/index.ts';
import { rampColour } from '../../domain/ramp-colour.ts';
import type { DosePainter } from '../../services/ports.ts';

export const dosePainter = (): DosePainter => ({ png: dosePng });

/** Longest side of the picture; cells are squares or rectangles of whole pixels in true proportion. */
const LONGEST_PX = 1200;

function dosePng(picture: DosePicture, show: 'residue' | 'energy'): Promise<Buffer> {
  const { columns, rows, widthMm, lengthMm } = picture;
  const cells = show === 'residue' ? picture.residueFraction : picture.energyJPerCm2;
  const most = show === 'residue' ? 1 : Math.max(1e-9, ...cells.map((row) => Math.max(...row)));
  const pixels = new Uint8Array(3 * rows * columns);
  cells.forEach((row, y) => {
    row.forEach((value, x) => {
      pixels.set(rampColour(show, value / most), 3 * (y * columns + x));
    });
  });
  const perMm = LONGEST_PX / Math.max(widthMm, lengthMm);
  return sharp(pixels, { raw: { width: columns, height: rows, channels: 3 } })
    .resize(Math.max(1, Math.round(widthMm * perMm)), Math.max(1, Math.round(lengthMm * perMm)), {
      kernel: 'nearest',
      fit: 'fill',
    })
    .withMetadata({ density: Math.round(perMm * 25.4) })
    .png()
    .toBuffer();
}
