import type { SurfaceClass } from '../../../domain/index.ts';

/**
 * How each class is marked: a colour of a published palette that stays apart for colour-blind readers, and a pattern that
 * tells the classes apart without any colour. Source: M. Okabe, K. Ito, Color Universal Design (2008), from memory.
 */
export interface ClassLook {
  readonly colour: readonly [red: number, green: number, blue: number];
  readonly word: string;
  /** Whether the pattern inks this pixel; x and y are pixels of the overlay, `unit` the pattern's size. */
  readonly isInked: (x: number, y: number, unit: number) => boolean;
}

const modulo = (value: number, period: number): number => ((value % period) + period) % period;
const isWithin = (value: number, period: number, width: number): boolean => modulo(value, period) < width;

export const CLASS_LOOKS: Readonly<Record<Exclude<SurfaceClass, 'bare'> | 'notMeasured', ClassLook>> = {
  stain: {
    colour: [240, 228, 66],
    word: 'stain',
    isInked: (x, y, u) => {
      const dx = modulo(x + (isWithin(y, 2 * u, u) ? 0 : u / 2), u) - u / 2;
      const dy = modulo(y, u) - u / 2;
      return dx * dx + dy * dy < (u / 4.2) ** 2;
    },
  },
  rust: { colour: [213, 94, 0], word: 'rust', isInked: (x, y, u) => isWithin(x + y, u, u / 2.6) },
  scale: { colour: [0, 114, 178], word: 'scale', isInked: (_, y, u) => isWithin(y, 0.8 * u, u / 3) },
  coating: {
    colour: [0, 158, 115],
    word: 'coating',
    isInked: (x, y, u) => isWithin(x, u, u / 4) || isWithin(y, u, u / 4),
  },
  notMeasured: {
    colour: [120, 120, 120],
    word: 'not measured',
    isInked: (x, y, u) => isWithin(x, u, u / 2) === isWithin(y, u, u / 2),
  },
};

/** Looks by class code; bare steel shows as it is. */
export const LOOK_OF_CODE: readonly (ClassLook | null)[] = [
  CLASS_LOOKS.notMeasured,
  null,
  CLASS_LOOKS.stain,
  CLASS_LOOKS.rust,
  CLASS_LOOKS.scale,
  CLASS_LOOKS.coating,
];
