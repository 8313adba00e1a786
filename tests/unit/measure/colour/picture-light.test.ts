import { describe, expect, it } from 'vitest';
import { CURVE_POINTS } from '../../../../server/domain/picture-light.ts';
import type { PictureLight } from '../../../../server/domain/picture-light.ts';
import { applyCorrection } from '../../../../server/measure/colour/correction-model.ts';
import { PLAIN_SRGB, normaliseColour, responseTables } from '../../../../server/measure/colour/normalise-colour.ts';
import type { ColourNormalisation } from '../../../../server/measure/colour/normalise-colour.ts';
import { pictureLight } from '../../../../server/measure/colour/picture-light.ts';
import { decodeSrgb } from '../../../../server/measure/colour/srgb.ts';
import { samplesUnder } from '../../../support/card-samples.ts';

type Rgb = readonly [number, number, number];

/** A warm lamp, a stop too dark: sRGB codes of the phone are those of the scene's light times this. */
const LAMP: Rgb = [0.62, 0.5, 0.31];
const normalisation = normaliseColour(
  samplesUnder((light) => [LAMP[0] * light[0], LAMP[1] * light[1], LAMP[2] * light[2]]),
  'nominal',
);

/** What a browser makes of one encoded colour: the curves, then the matrix between linear values. */
function shown({ curves, matrix: m }: PictureLight, code: Rgb): Rgb {
  const through = (curve: readonly number[], value: number): number => {
    const at = value * (CURVE_POINTS - 1);
    const k = Math.min(Math.floor(at), CURVE_POINTS - 2);
    return decodeSrgb(curve[k] + (at - k) * (curve[k + 1] - curve[k]));
  };
  const [r, g, b] = [through(curves.red, code[0]), through(curves.green, code[1]), through(curves.blue, code[2])];
  return [m[0] * r + m[1] * g + m[2] * b, m[3] * r + m[4] * g + m[5] * b, m[6] * r + m[7] * g + m[8] * b];
}

/** The same by the way that is measured with. */
function measured(by: ColourNormalisation, code: Rgb): Rgb {
  const tables = responseTables(by, 65535);
  const level = (channel: 0 | 1 | 2): number => tables[channel][Math.round(code[channel] * 65535)];
  const out = new Float64Array(3);
  applyCorrection(by.model, [level(0), level(1), level(2)], new Float64Array(6), out);
  return [out[0], out[1], out[2]];
}

const MIDDLE = normalisation.response?.centreMm ?? [0, 0];
const lightOf = (by: ColourNormalisation): PictureLight => {
  const light = pictureLight(by, MIDDLE);
  if (light === null) throw new Error('Expected a light');
  return light;
};
/** Greys and rusts as the phone encodes them. */
const CODES: readonly Rgb[] = [
  [0.2, 0.2, 0.18],
  [0.45, 0.42, 0.33],
  [0.4, 0.28, 0.16],
  [0.7, 0.64, 0.5],
];

describe('the light a photo is shown in', () => {
  it.each(CODES.map((code) => [code]))('shows %j as it is measured', (code) => {
    const [seen, truth] = [shown(lightOf(normalisation), code), measured(normalisation, code)];
    truth.forEach((value, channel) => {
      expect(Math.abs(seen[channel] - value)).toBeLessThan(0.004 + 0.03 * value);
    });
  });

  it('shows a grey that a lamp made brown as grey again', () => {
    // A grey of 0.36 in linear light under the lamp, encoded by the phone.
    const encoded = (linear: number): number => 1.055 * linear ** (1 / 2.4) - 0.055;
    const [r, g, b] = shown(lightOf(normalisation), [
      encoded(0.36 * LAMP[0]),
      encoded(0.36 * LAMP[1]),
      encoded(0.36 * LAMP[2]),
    ]);
    for (const value of [r, g, b]) expect(Math.abs(value / 0.36 - 1)).toBeLessThan(0.05);
  });

  it('stands in for a root-polynomial map with the matrix it comes nearest to', () => {
    // Root terms that only mix greys: for r = g = b the map is the plain one times 1.1.
    const rows = [0.8, 0, 0, 0.15, 0, 0.15, 0, 0.8, 0, 0.15, 0.15, 0, 0, 0, 0.8, 0, 0.15, 0.15];
    const rooted: ColourNormalisation = {
      ...normalisation,
      model: { kind: 'root-polynomial', coefficients: Float64Array.from(rows) },
    };
    const { matrix } = lightOf(rooted);
    for (const row of [0, 3, 6]) expect(matrix[row] + matrix[row + 1] + matrix[row + 2]).toBeCloseTo(1.1, 1);
  });

  it('is not known without a card', () => {
    expect(pictureLight(PLAIN_SRGB, [0, 0])).toBeNull();
  });
});
