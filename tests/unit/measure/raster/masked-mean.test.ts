import { describe, expect, it } from 'vitest';
import { maskedMean } from '../../../../server/measure/raster/masked-mean.ts';

const mask = (...values: number[]): Parameters<typeof maskedMean>[1] => ({
  width: values.length,
  height: 1,
  values: Uint8Array.from(values),
});

describe('the mean within a mask', () => {
  it('is that of the pixels that count', () => {
    expect(maskedMean(Float32Array.of(1, 50, 4, 7), mask(1, 0, 1, 1))).toBe(4);
  });

  it('is no number where none counts', () => {
    expect(maskedMean(Float32Array.of(1, 2), mask(0, 0))).toBeNaN();
  });
});
