import type { SurfaceClass } from '@domain/surface.ts';

/** Every code of the class map but bare steel, which stays as the photo shows it. */
export type MarkedClass = Exclude<SurfaceClass, 'bare'> | 'notMeasured';
export const MARKED_CLASSES = [
  'rust',
  'scale',
  'coating',
  'stain',
  'notMeasured',
] as const satisfies readonly MarkedClass[];
/** With the area that two segmenters read differently, which is a picture of its own. */
export type Marked = MarkedClass | 'doubtful';
/** Code of that area in a map of it: beside those of the classes. */
export const DOUBTFUL_CODE = 6;

/**
 * Colour of a published palette that stays apart for colour-blind readers, and a pattern that tells the classes apart
 * without any colour. Source: [OKABE2008], from memory.
 */
export interface ClassLook {
  readonly colour: readonly [red: number, green: number, blue: number];
  /** Whether the pattern inks this pixel; `unit` is the pattern's size in the same pixels. */
  readonly isInked: (x: number, y: number, unit: number) => boolean;
  /** The same pattern as strokes of a tile of 8 units, for keys and charts. */
  readonly tile: string;
}

const modulo = (value: number, period: number): number => ((value % period) + period) % period;
const isWithin = (value: number, period: number, width: number): boolean => modulo(value, period) < width;

export const CLASS_LOOKS: Readonly<Record<Marked, ClassLook>> = {
  stain: {
    colour: [240, 228, 66],
    isInked: (x, y, u) => {
      const dx = modulo(x + (isWithin(y, 2 * u, u) ? 0 : u / 2), u) - u / 2;
      const dy = modulo(y, u) - u / 2;
      return dx * dx + dy * dy < (u / 4.2) ** 2;
    },
    tile: 'M2 2h.01M6 6h.01',
  },
  rust: {
    colour: [213, 94, 0],
    isInked: (x, y, u) => isWithin(x + y, u, u / 2.6),
    tile: 'M-2 2l4-4M0 8l8-8M6 10l4-4',
  },
  scale: { colour: [0, 114, 178], isInked: (_, y, u) => isWithin(y, 0.8 * u, u / 3), tile: 'M0 2h8M0 6h8' },
  coating: {
    colour: [0, 158, 115],
    isInked: (x, y, u) => isWithin(x, u, u / 4) || isWithin(y, u, u / 4),
    tile: 'M0 4h8M4 0v8',
  },
  notMeasured: {
    colour: [120, 120, 120],
    isInked: (x, y, u) => isWithin(x, u, u / 2) === isWithin(y, u, u / 2),
    tile: 'M0 2h4M4 6h4',
  },
  doubtful: {
    colour: [204, 121, 167],
    isInked: (x, y, u) => isWithin(x - y, u, u / 2) || isWithin(x + y, u, u / 2),
    tile: 'M0 0l8 8M8 0l-8 8',
  },
};

export const colourOf = (marked: Marked): string => `rgb(${CLASS_LOOKS[marked].colour.join(' ')})`;
