import { describe, expect, it } from 'vitest';
import { fourierSquare } from '../../../../../server/measure/streaks/waves/fourier-square.ts';
import { dice } from '../../../../support/lattice-noise.ts';

const SIDE = 8;

function noise(seed: number): { re: Float32Array; im: Float32Array } {
  const random = dice(seed);
  const values = (): Float32Array => Float32Array.from({ length: SIDE * SIDE }, () => random.normal());
  return { re: values(), im: values() };
}

/** The sum that defines the transform. */
function bySum(re: Float32Array, im: Float32Array, u: number, v: number): [number, number] {
  let [sumRe, sumIm] = [0, 0];
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      const turn = (-2 * Math.PI * (u * x + v * y)) / SIDE;
      const i = y * SIDE + x;
      sumRe += re[i] * Math.cos(turn) - im[i] * Math.sin(turn);
      sumIm += re[i] * Math.sin(turn) + im[i] * Math.cos(turn);
    }
  }
  return [sumRe, sumIm];
}

describe('the discrete Fourier transform of a square', () => {
  it('is the sum that defines it', () => {
    const { re, im } = noise(1);
    const expected = [...Array(SIDE * SIDE).keys()].map((i) => bySum(re, im, i % SIDE, Math.floor(i / SIDE)));
    fourierSquare(SIDE)(re, im);
    expected.forEach(([r, j], i) => {
      expect(re[i]).toBeCloseTo(r, 4);
      expect(im[i]).toBeCloseTo(j, 4);
    });
  });

  // Parseval's theorem: the energies differ by the number of samples.
  it('keeps the energy', () => {
    const { re, im } = noise(2);
    const energy = (): number => re.reduce((sum, v, i) => sum + v * v + im[i] * im[i], 0);
    const before = energy();
    fourierSquare(SIDE)(re, im);
    expect(energy() / before).toBeCloseTo(SIDE * SIDE, 3);
  });

  it('gives the picture back, upside down and times its size, when done twice', () => {
    const { re, im } = noise(3);
    const first = Float32Array.from(re);
    const transform = fourierSquare(SIDE);
    transform(re, im);
    transform(re, im);
    const opposite = (i: number): number => (-i & (SIDE - 1)) % SIDE;
    for (let y = 0; y < SIDE; y++) {
      for (let x = 0; x < SIDE; x++) {
        expect(re[y * SIDE + x] / (SIDE * SIDE)).toBeCloseTo(first[opposite(y) * SIDE + opposite(x)], 4);
      }
    }
  });

  it('asks for a power of two', () => {
    expect(() => fourierSquare(12)).toThrow('power of two');
  });
});
