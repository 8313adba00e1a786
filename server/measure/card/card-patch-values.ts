import type { LabD50, PatchFamily } from '../../domain/index.ts';

/** What a patch is meant to look like, and the 8-bit sRGB code it is drawn with. */
export interface PatchValue {
  readonly family: PatchFamily;
  readonly srgb8: readonly [red: number, green: number, blue: number];
  readonly lab: LabD50;
}

/*
 * Design values, not measurements: colours that an average office printer on plain paper should reach (common
 * practice), to be replaced by measured ones wherever a spectrophotometer is at hand. They are relative to the paper,
 * as drawn: bare paper is Lab 100, 0, 0. `lab` is that of `srgb8`, to two decimals; the test converts both ways.
 */
const value = (
  family: PatchFamily,
  srgb8: PatchValue['srgb8'],
  lab: readonly [number, number, number],
): PatchValue => ({
  family,
  srgb8,
  lab: { L: lab[0], a: lab[1], b: lab[2] },
});
const neutral = (code: number, L: number): PatchValue => value('neutral', [code, code, code], [L, 0, 0]);

/** Near-white to the darkest grey a printer holds, in about equal steps of lightness. */
export const NEUTRAL_RAMP: readonly PatchValue[] = [
  neutral(232, 92.0),
  neutral(198, 79.88),
  neutral(166, 68.12),
  neutral(134, 55.93),
  neutral(104, 44.01),
  neutral(73, 31.03),
  neutral(44, 18.0),
];

/**
 * Four rows of seven. The order is an annealed one: no two of a family touch, side-by-side colours (the neutral rows
 * above and below included) differ by at least 20 CIEDE2000, and each family is centred on the block, so that uneven
 * light does not pass for a colour cast of one family.
 */
export const CHROMATIC_ROWS: readonly (readonly PatchValue[])[] = [
  [
    value('iron oxide', [153, 100, 83], [47.94, 20.54, 18.91]),
    value('scale', [50, 50, 54], [20.9, 0.72, -2.54]),
    value('iron oxide', [184, 96, 39], [50.89, 33.45, 47.26]),
    value('gamut', [69, 79, 140], [35.04, 9.77, -35.8]),
    value('stain', [222, 205, 160], [82.99, 1.1, 24.75]),
    value('gamut', [207, 61, 70], [49.01, 58.16, 30.04]),
    value('stain', [147, 134, 122], [56.84, 3.52, 8.36]),
  ],
  [
    value('steel', [158, 155, 148], [64.08, 0.16, 4.09]),
    value('gamut', [236, 215, 76], [85.91, -3.64, 67.9]),
    value('steel', [176, 180, 185], [73.1, -0.73, -3.07]),
    value('iron oxide', [97, 54, 51], [28.13, 19.43, 10.65]),
    value('steel', [125, 130, 135], [54.06, -1.15, -3.39]),
    value('iron oxide', [79, 56, 42], [25.91, 9.04, 12.99]),
    value('scale', [68, 76, 93], [32.1, -0.06, -11.18]),
  ],
  [
    value('iron oxide', [120, 80, 48], [38.04, 14.63, 25.82]),
    value('scale', [57, 63, 73], [26.38, -0.67, -7.01]),
    value('iron oxide', [156, 116, 72], [52.19, 12.31, 30.59]),
    value('gamut', [43, 144, 88], [53.08, -40.15, 21.1]),
    value('iron oxide', [199, 127, 58], [60.05, 24.34, 48.21]),
    value('gamut', [45, 157, 199], [60.08, -21.04, -31.12]),
    value('iron oxide', [204, 161, 77], [69.07, 9.68, 49.02]),
  ],
  [
    value('stain', [183, 155, 130], [66.05, 7.92, 17.22]),
    value('gamut', [204, 70, 134], [51.0, 57.73, -5.89]),
    value('stain', [207, 190, 172], [78.05, 4.03, 11.41]),
    value('iron oxide', [128, 58, 45], [33.97, 30.13, 23.11]),
    value('scale', [84, 89, 96], [37.56, -0.85, -4.77]),
    value('iron oxide', [157, 74, 45], [42.11, 33.78, 33.87]),
    value('steel', [115, 111, 105], [47.06, 0.74, 3.93]),
  ],
];
