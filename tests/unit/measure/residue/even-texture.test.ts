import { describe, expect, it } from 'vitest';
import { encodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import { evenTexture } from '../../../../server/measure/residue/even-texture.ts';
import type { EvenTexture } from '../../../../server/measure/residue/even-texture.ts';
import { bareSegmentation } from '../../../support/bare-segmentation.ts';
import { pictureOfCard } from '../../../support/picture-of-card.ts';
import { faceOn } from '../../../support/placed-card.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { plainView } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

/** All of the card is in the photo, and the zone is a part of that. */
const clean = pictureOfCard({ width: 620, height: 420, toPhoto: faceOn(4, [0, 0]) });
const size = { width: 320, height: 240 };

const grain = (sigma: number, seed = 1): LabAt => {
  const random = seededRandom(seed);
  return () => [56 + sigma * seededNormal(random), 0, 0];
};
/** Cleaned pits, 5 mm wide, over a quarter of the plate: their light and shade are four times the grain. */
const pitted = (sigma: number, seed = 1): LabAt => {
  const random = seededRandom(seed);
  return (column, row) => {
    const isPit = column % 40 < 20 && row % 40 < 20;
    return [56 + (isPit ? 4 : 1) * sigma * seededNormal(random), 0, 0];
  };
};
function textureOf(at: LabAt, raster: EncodedRgbRaster, stepMm: number | null = 0.25): EvenTexture | null {
  const view = plainView({ ...size, stepMm }, at);
  return evenTexture({ raster, view, segmentation: bareSegmentation(size) });
}
/** What the noise leaves in the middle band. */
function squareOf(at: LabAt, raster: EncodedRgbRaster): number {
  const { square, noise } = textureOf(at, raster)?.bands[1] ?? { square: NaN, noise: NaN };
  return square - noise;
}
function noisy(photo: EncodedRgbRaster, sigmaCodes: number): EncodedRgbRaster {
  const random = seededRandom(77);
  const pixels = photo.pixels.map((code) =>
    Math.min(255, Math.max(0, Math.round(code + sigmaCodes * seededNormal(random)))),
  );
  return encodedRgbRaster(photo.width, photo.height, Uint8Array.from(pixels));
}

describe('the texture of even steel', () => {
  it('grows with the square of the contrast', async () => {
    const photo = await clean;
    const ratio = squareOf(grain(3), photo) / squareOf(grain(1.5), photo);
    expect(ratio).toBeGreaterThan(3.9);
    expect(ratio).toBeLessThan(4.1);
  });

  it('shows waves in the band where they lie', async () => {
    const photo = await clean;
    const wave =
      (wavelengthMm: number): LabAt =>
      (column) => [56 + 2 * Math.sin((2 * Math.PI * 0.25 * column) / wavelengthMm), 0, 0];
    const bandsOf = (at: LabAt): number[] => (textureOf(at, photo)?.bands ?? []).map(({ square }) => square);
    const [fine, middle, coarse] = [bandsOf(wave(0.9)), bandsOf(wave(1.4)), bandsOf(wave(3.5))];
    expect(fine[0]).toBeGreaterThan(1.2 * fine[1]);
    expect(middle[1]).toBeGreaterThan(1.2 * middle[0]);
    expect(middle[1]).toBeGreaterThan(4 * middle[2]);
    expect(coarse[2]).toBeGreaterThan(4 * coarse[1]);
  });

  it('is not that of cleaned pits that lie in it', async () => {
    const photo = await clean;
    const ratio = squareOf(pitted(1.5), photo) / squareOf(grain(1.5), photo);
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.1);
  });

  it('tells the photo’s noise apart', async () => {
    const [photo, noisyPhoto] = [await clean, noisy(await clean, 3)];
    const [without, withNoise] = [textureOf(grain(2), photo), textureOf(grain(2), noisyPhoto)];
    expect(without?.bands[1].noise).toBeLessThan(0.01 * (without?.bands[1].square ?? NaN));
    expect(withNoise?.bands[1].noise).toBeGreaterThan(0.1 * (withNoise?.bands[1].square ?? NaN));
    expect(squareOf(grain(0.3), noisyPhoto)).toBeLessThan(0);
  });

  it('says what else the patch tells', async () => {
    const segmentation = bareSegmentation(size);
    // A fifth stained, on one side: steel near it is not plain.
    for (let row = 0; row < size.height; row++) {
      segmentation.codes.values.fill(2, row * size.width, row * size.width + 64);
    }
    const view = plainView({ ...size, stepMm: 0.25 }, grain(1));
    const texture = evenTexture({ raster: await clean, view, segmentation });
    expect(texture?.stainPart).toBeCloseTo(0.2, 9);
    expect(texture?.plainPart).toBeGreaterThan(0.9);
    expect(texture?.plainPart).toBeLessThan(0.99);
    expect(texture?.lightness).toBeCloseTo(56, 0);
    expect(texture?.cells).toBeGreaterThan(500);
    const soft = { ...view, edgeBlurPx: 1, placed: { ...view.placed, pxPerUnit: 4 } };
    expect(evenTexture({ raster: await clean, view: soft, segmentation })?.blurMm).toBe(0.25);
  });

  it('is unknown without a card and where nothing is bare', async () => {
    const photo = await clean;
    expect(textureOf(grain(1), photo, null)).toBeNull();
    const segmentation = bareSegmentation(size);
    segmentation.codes.values.fill(3);
    expect(
      evenTexture({ raster: photo, view: plainView({ ...size, stepMm: 0.25 }, grain(1)), segmentation }),
    ).toBeNull();
  });
});
