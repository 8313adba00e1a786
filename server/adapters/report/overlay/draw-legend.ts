import { SURFACE_CLASSES } from '../../../domain/index.ts';
import type { Measured } from '../../../domain/index.ts';
import { CLASS_LOOKS } from './class-look.ts';
import type { ClassLook } from './class-look.ts';
import { OverlayDrawing } from './overlay-drawing.ts';
import type { OverlayRequest } from '../../../services/ports.ts';

export interface LegendSize {
  readonly width: number;
  readonly unit: number;
  readonly patternUnit: number;
}

interface Layer {
  readonly input: Buffer;
  readonly raw?: { width: number; height: number; channels: 4 };
  readonly top: number;
  readonly left: number;
}

const INK = '#161616';
const QUIET = '#555555';

/** The panel below the picture: title, a swatch per class with its share and interval, streaks, and what the lines mean. */
export function drawLegend(
  input: Pick<OverlayRequest, 'title' | 'surface' | 'streaks' | 'view'>,
  size: LegendSize,
): { height: number; layers: Layer[] } {
  const { unit } = size;
  const height = Math.round(17 * unit);
  const text = new OverlayDrawing(unit);
  const margin = 3 * unit;
  text.label(input.title, [margin, 4 * unit], { size: 2.8 * unit, colour: INK, weight: 'semibold' });
  text.label(resultLine(input), [margin, 7.4 * unit], { size: 2.3 * unit, colour: INK });
  const entries = legendEntries(input);
  const step = (size.width - 2 * margin) / entries.length;
  const box = { width: Math.round(4.5 * unit), height: Math.round(4 * unit) };
  const layers: Layer[] = entries.map(({ look, words, share }, k) => {
    const left = Math.round(margin + k * step);
    const top = Math.round(9.5 * unit);
    const at = left + box.width + unit;
    text.label(words, [at, top + 1.7 * unit], { size: 2.1 * unit, colour: INK, weight: 'semibold' });
    text.label(share, [at, top + 4 * unit], { size: 1.9 * unit, colour: QUIET });
    const raw = { width: box.width, height: box.height, channels: 4 as const };
    return { input: Buffer.from(swatch(look, box, size.patternUnit).buffer), raw, top, left };
  });
  return { height, layers: [...layers, { input: Buffer.from(text.toSvg(size.width, height)), top: 0, left: 0 }] };
}

interface Entry {
  readonly look: ClassLook | null;
  readonly words: string;
  readonly share: string;
}

function legendEntries({ surface }: Pick<OverlayRequest, 'surface'>): Entry[] {
  const classes = SURFACE_CLASSES.map((name): Entry => ({
    look: name === 'bare' ? null : CLASS_LOOKS[name],
    words: name,
    share: withInterval(surface.fractions[name]),
  }));
  const unmeasured = `${(100 * surface.unmeasuredFraction).toFixed(1)} % of the zone`;
  return [...classes, { look: CLASS_LOOKS.notMeasured, words: 'not measured', share: unmeasured }];
}

function resultLine({ surface, streaks }: Pick<OverlayRequest, 'surface' | 'streaks'>): string {
  const residue = `Residue ${withInterval(surface.residue)}`;
  if (!streaks.found) return `${residue}. No streaks found.`;
  const pitch = streaks.pitchMm === null ? '' : ` every ${streaks.pitchMm.value.toFixed(1)} mm`;
  return `${residue}. Streaks${pitch}; dashed lines follow some of them.`;
}

const withInterval = (m: Measured): string =>
  `${(100 * m.value).toFixed(1)} % (${(100 * m.low).toFixed(1)} to ${(100 * m.high).toFixed(1)})`;

function swatch(look: ClassLook | null, box: { width: number; height: number }, unit: number): Uint8Array {
  const pixels = new Uint8Array(4 * box.width * box.height);
  for (let y = 0, index = 0; y < box.height; y++) {
    for (let x = 0; x < box.width; x++, index++) {
      const isEdge = x === 0 || y === 0 || x === box.width - 1 || y === box.height - 1;
      const ground: readonly number[] = isEdge ? [60, 60, 60] : [176, 178, 180];
      const colour = !isEdge && look?.isInked(x, y, unit) === true ? look.colour : ground;
      pixels.set([colour[0], colour[1], colour[2], 255], 4 * index);
    }
  }
  return pixels;
}
