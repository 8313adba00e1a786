import { describe, expect, it } from 'vitest';
import { applyNormalisation, dampedLogLight } from '../../../../server/measure/colour/apply-normalisation.ts';
import { PLAIN_SRGB, normaliseColour } from '../../../../server/measure/colour/normalise-colour.ts';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { linearRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import { samplesUnder } from '../../../support/card-samples.ts';

describe('light that falls across the surface', () => {
  const slope = 0.001;
  const normalisation = normaliseColour(
    samplesUnder((light, [x]) => {
      const gain = Math.exp(slope * (x - 76.2));
      return [gain * light[0], gain * light[1], gain * light[2]];
    }),
    'nominal',
  );
  /** 200 x 4 mm beside the card, turned by `angle`. */
  const gridAt = (angle: number): SurfaceGrid => ({
    unit: 'mm',
    width: 200,
    height: 4,
    step: 1,
    origin: [80, 40],
    angle,
  });
  const lit = (grid: SurfaceGrid): Float32Array => {
    const pixels = new Float32Array(3 * grid.width * grid.height);
    for (let row = 0, i = 0; row < grid.height; row++) {
      for (let column = 0; column < grid.width; column++, i += 3) {
        const x = grid.origin[0] + Math.cos(grid.angle) * (column + 0.5) - Math.sin(grid.angle) * (row + 0.5);
        pixels.fill(0.3 * Math.exp(dampedLogLight(slope * (x - 76.2))), i, i + 3);
      }
    }
    return pixels;
  };

  it.each([0, 0.5])('is taken out along a grid turned by %d', (angle) => {
    const grid = gridAt(angle);
    const { pixels } = applyNormalisation(linearRgbRaster(200, 4, lit(grid)), grid, normalisation);
    for (const value of pixels) expect(value / 0.3).toBeCloseTo(1, 2);
  });

  it('is left alone where no millimetres are known', () => {
    const grid: SurfaceGrid = { ...gridAt(0), unit: 'px' };
    const before = lit(grid);
    const { pixels } = applyNormalisation(linearRgbRaster(200, 4, Float32Array.from(before)), grid, {
      ...normalisation,
      model: PLAIN_SRGB.model,
    });
    expect(pixels).toEqual(before);
  });

  it('is believed in full near the card and levels off far from it', () => {
    expect(dampedLogLight(0.05) / 0.05).toBeCloseTo(1, 1);
    expect(dampedLogLight(5)).toBeCloseTo(0.35, 6);
    expect(dampedLogLight(-0.2)).toBeCloseTo(-dampedLogLight(0.2), 12);
  });
});

it('plain sRGB leaves light as it is', () => {
  const grid: SurfaceGrid = { unit: 'mm', width: 2, height: 1, step: 1, origin: [0, 0], angle: 0 };
  const pixels = Float32Array.of(0.1, 0.2, 0.3, 0.9, 0.5, 0);
  const before = Float32Array.from(pixels);
  expect(applyNormalisation(linearRgbRaster(2, 1, pixels), grid, PLAIN_SRGB).pixels).toEqual(before);
});
