import sharp from 'sharp';
import type { DosePicture } from '../../domain/index.ts';
import type { DosePainter } from '../../services/ports.ts';

export const dosePainter = (): DosePainter => ({ png: dosePng });

/** Longest side of the picture; cells are squares or rectangles of whole pixels in true proportion. */
const LONGEST_PX = 1200;

/**
 * Residue from bare (light) to covered (dark rust), or energy from none (dark) to most (light). Lightness alone tells the
 * order, so that it reads the same to any eye and in grey.
 */
const RAMPS = {
  residue: [
    [232, 234, 236],
    [214, 168, 120],
    [92, 38, 18],
  ],
  energy: [
    [22, 26, 46],
    [120, 84, 132],
    [252, 232, 196],
  ],
} as const;

function dosePng(picture: DosePicture, show: 'residue' | 'energy'): Promise<Buffer> {
  const { columns, rows, widthMm, lengthMm } = picture;
  const cells = show === 'residue' ? picture.residueFraction : picture.energyJPerCm2;
  const most = show === 'residue' ? 1 : Math.max(1e-9, ...cells.map((row) => Math.max(...row)));
  const pixels = new Uint8Array(3 * rows * columns);
  cells.forEach((row, y) => {
    row.forEach((value, x) => {
      pixels.set(colourAt(RAMPS[show], value / most), 3 * (y * columns + x));
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

type Ramp = readonly (readonly [number, number, number])[];

function colourAt(ramp: Ramp, share: number): [number, number, number] {
  const place = Math.min(1, Math.max(0, share)) * (ramp.length - 1);
  const below = Math.min(ramp.length - 2, Math.floor(place));
  const part = place - below;
  const mix = (channel: 0 | 1 | 2): number =>
    Math.round(ramp[below][channel] + part * (ramp[below + 1][channel] - ramp[below][channel]));
  return [mix(0), mix(1), mix(2)];
}
