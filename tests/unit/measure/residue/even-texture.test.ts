import { describe, expect, it } from 'vitest';
import { encodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import { evenTexture } from '../../../../server/measure/residue/even-texture.ts';
import type { UsualSquare } from '../../../../server/measure/residue/usual-square.ts';
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
/** In the middle band. */
function evenOf(at: LabAt, raster: EncodedRgbRaster, stepMm: number | null = 0.25): UsualSquare | null {
  const view = plainView({ ...size, stepMm }, at);
  return evenTexture({ raster, view, segmentation: bareSegmentation(size) })?.[1] ?? null;
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
    const ratio = (evenOf(grain(3), photo)?.square ?? NaN) / (evenOf(grain(1.5), photo)?.square ?? NaN);
    expect(ratio).toBeGreaterThan(3.9);
    expect(ratio).toBeLessThan(4.1);
  });

  it('shows waves in the band where they lie', async () => {
    const wave =
      (wavelengthMm: number): LabAt =>
      (column) => [56 + 2 * Math.sin((2 * Math.PI * 0.25 * column) / wavelengthMm), 0, 0];
    const bandsOf = async (at: LabAt): Promise<number[]> => {
      const view = plainView({ ...size, stepMm: 0.25 }, at);
      const textures = evenTexture({ raster: await clean, view, segmentation: bareSegmentation(size) });
      return (textures ?? []).map(({ square }) => square);
    };
    const [fine, middle, coarse] = [await bandsOf(wave(0.9)), await bandsOf(wave(1.4)), await bandsOf(wave(3.5))];
    expect(fine[0]).toBeGreaterThan(1.2 * fine[1]);
    expect(middle[1]).toBeGreaterThan(1.2 * middle[0]);
    expect(middle[1]).toBeGreaterThan(4 * middle[2]);
    expect(coarse[2]).toBeGreaterThan(4 * coarse[1]);
  });

  it('is not that of cleaned pits that lie in it', async () => {
    const photo = await clean;
    const ratio = (evenOf(pitted(1.5), photo)?.square ?? NaN) / (evenOf(grain(1.5), photo)?.square ?? NaN);
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.1);
  });

  it('has the photo’s noise taken out, and is less sure for it', async () => {
    const photo = await clean;
    const [without, withNoise] = [evenOf(grain(2), photo), evenOf(grain(2), noisy(photo, 3))];
    expect(withNoise?.square).toBeLessThan(0.9 * (without?.square ?? NaN));
    expect(withNoise?.sigma).toBeGreaterThan(without?.sigma ?? NaN);
    expect(evenOf(grain(0.3), noisy(photo, 3))?.square).toBe(0);
  });

  it('is unknown without a card and where nothing is bare', async () => {
    const photo = await clean;
    expect(evenOf(grain(1), photo, null)).toBeNull();
    const segmentation = bareSegmentation(size);
    segmentation.codes.values.fill(3);
    expect(
      evenTexture({ raster: photo, view: plainView({ ...size, stepMm: 0.25 }, grain(1)), segmentation }),
    ).toBeNull();
  });
});
