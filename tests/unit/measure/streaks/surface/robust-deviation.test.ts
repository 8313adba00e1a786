import { describe, expect, it } from 'vitest';
import { median, robustDeviation } from '../../../../../server/measure/streaks/surface/robust-deviation.ts';
import { dice } from '../../../../support/lattice-noise.ts';

describe('robust measures', () => {
  it('takes the middle value, or the mean of the two middle ones', () => {
    expect(median([5, 1, 9])).toBe(5);
    expect(median([4, 1, 9, 2])).toBe(3);
    expect(median([])).toBe(0);
  });

  it('finds the deviation of normal noise of which a tenth is spoilt', () => {
    const random = dice(3);
    const signal = Float32Array.from({ length: 9000 }, () => 2 * random.normal());
    const weight = new Float32Array(signal.length).fill(1);
    expect(robustDeviation(signal, weight)).toBeCloseTo(2, 1);
    const spoilt = signal.map((v, i) => (i % 10 === 0 ? 80 : v));
    expect(robustDeviation(spoilt, weight)).toBeLessThan(2.6);
  });

  it('scales with the signal', () => {
    const signal = Float32Array.from({ length: 999 }, (_, i) => Math.sin(i * i));
    const weight = new Float32Array(signal.length).fill(1);
    expect(
      robustDeviation(
        signal.map((v) => 3 * v),
        weight,
      ),
    ).toBeCloseTo(3 * robustDeviation(signal, weight), 5);
  });
});
