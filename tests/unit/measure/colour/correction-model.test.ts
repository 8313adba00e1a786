import { describe, expect, it } from 'vitest';
import {
  CORRECTION_KINDS,
  TERMS,
  applyCorrection,
  correctionTerms,
  fitCorrection,
  plainBalance,
} from '../../../../server/measure/colour/correction-model.ts';
import type { CorrectionModel, KnownColour } from '../../../../server/measure/colour/correction-model.ts';
import { ciede2000 } from '../../../../server/measure/colour/ciede2000.ts';
import { knownColour, linearOfLab } from '../../../../server/measure/colour/known-colour.ts';
import { linearSrgbToLabD50 } from '../../../../server/measure/colour/lab-d50.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

type Rgb = [number, number, number];

function corrected(model: CorrectionModel, rgb: Rgb): Rgb {
  const out = new Float64Array(3);
  applyCorrection(model, rgb, new Float64Array(6), out);
  return [out[0], out[1], out[2]];
}

function labOf([r, g, b]: Rgb): { L: number; a: number; b: number } {
  const out: Rgb = [0, 0, 0];
  linearSrgbToLabD50(r, g, b, out);
  return { L: out[0], a: out[1], b: out[2] };
}

/** Colours whose truth is `model` of what is seen, known to a hundredth of a CIEDE2000. */
function coloursOf(model: CorrectionModel): KnownColour[] {
  const random = seededRandom(31);
  return Array.from({ length: 40 }, () => {
    const seen: Rgb = [0.05 + 0.8 * random(), 0.05 + 0.8 * random(), 0.05 + 0.8 * random()];
    return knownColour(seen, labOf(corrected(model, seen)), 0.01);
  });
}

const linear: CorrectionModel = {
  kind: 'linear',
  coefficients: Float64Array.of(1.2, -0.15, -0.05, -0.08, 1.15, -0.07, 0.02, -0.2, 1.18),
};
const root: CorrectionModel = {
  kind: 'root-polynomial',
  coefficients: Float64Array.of(
    ...[1.1, -0.05, 0.02, -0.06, 0.03, -0.04],
    ...[-0.04, 1.08, -0.02, 0.03, -0.05, 0],
    ...[0.01, -0.06, 1.12, 0, -0.04, -0.03],
  ),
};

describe('the three colour maps', () => {
  it('have the terms of root-polynomial regression of degree 2 (Finlayson et al. 2015)', () => {
    const terms = new Float64Array(6);
    correctionTerms('root-polynomial', [0.09, 0.25, 0.64], terms);
    [0.09, 0.25, 0.64, 0.15, 0.4, 0.24].forEach((term, k) => {
      expect(terms[k]).toBeCloseTo(term, 12);
    });
    expect(CORRECTION_KINDS.map((kind) => TERMS[kind])).toEqual([3, 3, 6]);
  });

  it('scale with exposure: light times k is answered with light times k', () => {
    for (const model of [plainBalance(), linear, root]) {
      const once = corrected(model, [0.2, 0.35, 0.1]);
      const twice = corrected(model, [0.4, 0.7, 0.2]);
      twice.forEach((value, k) => {
        expect(value).toBeCloseTo(2 * once[k], 12);
      });
    }
  });

  it('survive light below 0, as noise makes it', () => {
    expect(corrected(root, [-0.01, 0.2, 0.1]).every(Number.isFinite)).toBe(true);
  });
});

describe('fitting a map', () => {
  it.each([linear, root])('recovers a known one: $kind', (model) => {
    const fit = fitCorrection(model.kind, coloursOf(model));
    model.coefficients.forEach((c, k) => {
      expect(fit?.coefficients[k]).toBeCloseTo(c, 2);
    });
  });

  it('stays plain where the colours say nothing', () => {
    const fit = fitCorrection('linear', []);
    [1, 0, 0, 0, 1, 0, 0, 0, 1].forEach((c, k) => {
      expect(fit?.coefficients[k]).toBeCloseTo(c, 12);
    });
    expect(fitCorrection('balance', coloursOf(linear))).toEqual(plainBalance());
  });

  it('follows the better known of two colours that disagree', () => {
    const seen: Rgb = [0.3, 0.2, 0.1];
    const towards = (truth: Rgb, sigma: number): KnownColour => knownColour(seen, labOf(truth), sigma);
    const fit = fitCorrection('linear', [towards([0.4, 0.2, 0.1], 0.1), towards([0.3, 0.2, 0.1], 10)]);
    expect(corrected(fit ?? plainBalance(), seen)[0]).toBeCloseTo(0.4, 2);
  });
});

describe('the weight of a known colour', () => {
  it('is the square of the CIEDE2000 that a small error makes, over its variance', () => {
    for (const lab of [
      { L: 50, a: 0, b: 0 },
      { L: 42, a: 22, b: 28 },
      { L: 30, a: -1, b: -9 },
    ]) {
      const { truth, weight } = knownColour([0, 0, 0], lab, 2);
      for (const step of [
        [1e-4, 0, 0],
        [0, -1e-4, 1e-4],
        [1e-4, 1e-4, 1e-4],
      ]) {
        let square = 0;
        for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) square += step[i] * weight[i * 3 + j] * step[j];
        const moved = labOf([truth[0] + step[0], truth[1] + step[1], truth[2] + step[2]]);
        expect((2 * Math.sqrt(square)) / ciede2000(lab, moved)).toBeCloseTo(1, 1);
      }
    }
  });

  it('has the truth in linear sRGB: mid grey of L* 50 reflects 18.4 % (CIE 15)', () => {
    for (const value of linearOfLab({ L: 50, a: 0, b: 0 })) expect(value).toBeCloseTo(0.1842, 3);
  });
});
