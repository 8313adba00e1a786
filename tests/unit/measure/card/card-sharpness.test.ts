import { describe, expect, it } from 'vitest';
import { toPhotoPixel } from '../../../../server/measure/geometry/photo-map.ts';
import { cardEdgeBlurPx } from '../../../../server/measure/card/card-sharpness.ts';
import { squareCorners } from '../../../../server/measure/card/refine-square.ts';
import { encodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import { faceOn, placedCard } from '../../../support/placed-card.ts';

const size = { width: 1000, height: 700 };
const located = placedCard(faceOn(6, [40, 40]), size);

/** Sum of the normal distribution (Abramowitz and Stegun 7.1.26, good to 1.5e-7). */
function normalSum(x: number): number {
  const t = 1 / (1 + (0.3275911 * Math.abs(x)) / Math.SQRT2);
  const tail =
    (((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) *
      t *
      Math.exp((-x * x) / 2)) /
    2;
  return x > 0 ? 1 - tail : tail;
}

/** Dark squares at the markers' places, blurred by a Gaussian: in linear light a product of two normal sums. */
function photoOf(sigmaX: number, sigmaY: number): EncodedRgbRaster {
  const squares = located.card.markers.map(({ area }) => {
    const [topLeft, , bottomRight] = squareCorners(area).map((corner) => toPhotoPixel(located.map, corner));
    return { topLeft, bottomRight };
  });
  const pixels = new Uint16Array(3 * size.width * size.height);
  for (let y = 0, i = 0; y < size.height; y++) {
    for (let x = 0; x < size.width; x++, i++) {
      let cover = 0;
      for (const { topLeft: a, bottomRight: b } of squares) {
        const across = normalSum((x + 0.5 - a[0]) / sigmaX) - normalSum((x + 0.5 - b[0]) / sigmaX);
        cover += across * (normalSum((y + 0.5 - a[1]) / sigmaY) - normalSum((y + 0.5 - b[1]) / sigmaY));
      }
      const light = 0.85 - 0.8 * cover;
      pixels.fill(Math.round(65535 * (1.055 * light ** (1 / 2.4) - 0.055)), 3 * i, 3 * i + 3);
    }
  }
  return encodedRgbRaster(size.width, size.height, pixels);
}

describe('the softness of the card’s edges', () => {
  it.each([0.7, 1.2, 2.5])('finds a blur of %f px', (sigma) => {
    const found = cardEdgeBlurPx(photoOf(sigma, sigma), located);
    expect(found).not.toBeNull();
    expect(Math.abs((found ?? 0) / sigma - 1)).toBeLessThan(0.08);
  });

  it('lets the softer direction count, as a shaken hand blurs one only', () => {
    expect(cardEdgeBlurPx(photoOf(2.5, 0.6), located)).toBeCloseTo(2.5, 0);
    expect(cardEdgeBlurPx(photoOf(0.6, 2.5), located)).toBeCloseTo(2.5, 0);
  });

  it('says nothing where no edge is to be seen', () => {
    const plain = new Uint8Array(3 * size.width * size.height).fill(150);
    expect(cardEdgeBlurPx(encodedRgbRaster(size.width, size.height, plain), located)).toBeNull();
  });
});
