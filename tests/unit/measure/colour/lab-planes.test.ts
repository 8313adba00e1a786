import { describe, expect, it } from 'vitest';
import { linearSrgbToLabD50 } from '../../../../server/measure/colour/lab-d50.ts';
import { labPlanes, linearRasterToLabD50 } from '../../../../server/measure/colour/lab-planes.ts';
import { linearRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';

/** Fixed low-discrepancy colours, cubed so that the darks, where the cube root bends most, are well covered. */
function colours(count: number, low: number, high: number): Float32Array {
  const samples = new Float32Array(3 * count);
  for (let index = 0; index < samples.length; index++) {
    samples[index] = low + (high - low) * ((index * 0.754877666) % 1) ** 3;
  }
  return samples;
}

function worstError(samples: Float32Array): number {
  const count = samples.length / 3;
  const planes = linearRasterToLabD50(linearRgbRaster(count, 1, samples));
  const exact: [number, number, number] = [0, 0, 0];
  let worst = 0;
  for (let pixel = 0; pixel < count; pixel++) {
    linearSrgbToLabD50(samples[3 * pixel], samples[3 * pixel + 1], samples[3 * pixel + 2], exact);
    [planes.L, planes.a, planes.b].forEach(({ values }, index) => {
      worst = Math.max(worst, Math.abs(values[pixel] - exact[index]));
    });
  }
  return worst;
}

describe('Lab planes of a picture', () => {
  it('stay within 0.005 of the exact path for light from black to white', () => {
    expect(worstError(colours(100_000, 0, 1))).toBeLessThan(0.005);
  });

  it('stay within 0.005 in the darks around the break of the cube root', () => {
    expect(worstError(colours(50_000, 0, 0.02))).toBeLessThan(0.005);
  });

  it('carry light below black and far above white', () => {
    expect(worstError(colours(20_000, -0.2, 0))).toBeLessThan(0.005);
    expect(worstError(colours(20_000, 1, 4))).toBeLessThan(0.005);
  });

  it('write into planes that are given and refuse planes of another size', () => {
    const raster = linearRgbRaster(2, 1, Float32Array.of(0.1, 0.2, 0.3, 1, 1, 1));
    const given = labPlanes(2, 1);
    expect(linearRasterToLabD50(raster, given)).toBe(given);
    expect(given.L.values[1]).toBeCloseTo(100, 3);
    expect(() => linearRasterToLabD50(raster, labPlanes(3, 1))).toThrow(RangeError);
  });

  it('give an empty picture empty planes', () => {
    expect(linearRasterToLabD50(linearRgbRaster(0, 0, new Float32Array(0))).L.values).toHaveLength(0);
  });
});
