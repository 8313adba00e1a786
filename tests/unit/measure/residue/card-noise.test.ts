import { describe, expect, it } from 'vitest';
import { PLAIN_SRGB } from '../../../../server/measure/colour/normalise-colour.ts';
import { encodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import { cardNoise } from '../../../../server/measure/residue/card-noise.ts';
import { pictureOfCard } from '../../../support/picture-of-card.ts';
import { faceOn, placedCard } from '../../../support/placed-card.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const size = { width: 640, height: 440 };
const toPhoto = faceOn(4, [15, 15]);
const located = placedCard(toPhoto, size);
const clean = pictureOfCard({ ...size, toPhoto });

function noisy(photo: EncodedRgbRaster, sigmaCodes: number): EncodedRgbRaster {
  const random = seededRandom(77);
  const pixels = Uint8Array.from(photo.pixels, (code) =>
    Math.min(255, Math.max(0, Math.round(code + sigmaCodes * seededNormal(random)))),
  );
  return encodedRgbRaster(photo.width, photo.height, pixels);
}
const noiseOf = (photo: EncodedRgbRaster): ((lightness: number) => number) => {
  const noiseAt = cardNoise({ photo, located, normalisation: PLAIN_SRGB, stepMm: 0.25 });
  return (lightness) => Math.sqrt(noiseAt(lightness).square);
};

describe('the texture that the photo itself makes', () => {
  it('is next to none in a drawn picture', async () => {
    expect(noiseOf(await clean)(60)).toBeLessThan(0.1);
  });

  it('is the noise of the card’s greys, in CIEDE2000', async () => {
    // Independent noise of 3 codes a channel at code 134: 0.9 in L* and, near grey, about 2 in a* and b* each; the exact
    // value depends on how pixels are mixed on the way to the raster.
    const noise = noiseOf(noisy(await clean, 3));
    expect(noise(56)).toBeGreaterThan(0.8);
    expect(noise(56)).toBeLessThan(4);
  });

  it('doubles with the noise', async () => {
    const photo = await clean;
    expect(noiseOf(noisy(photo, 4))(60) / noiseOf(noisy(photo, 2))(60)).toBeCloseTo(2, 0);
  });

  it('is hardly changed by one soiled grey', async () => {
    const photo = noisy(await clean, 2);
    const noise = noiseOf(photo)(56);
    const grey = located.card.patches.find(
      ({ family, nominal }) => family === 'neutral' && Math.abs(nominal.lab.L - 56) < 1,
    );
    if (grey === undefined) throw new Error('expected a middle grey');
    const soiled = encodedRgbRaster(size.width, size.height, Uint8Array.from(photo.pixels));
    for (let y = 0; y < 40; y++) {
      for (let x = 0; x < 40; x++) {
        const at = 3 * ((15 + Math.round(4 * grey.area.y) + y) * size.width + 15 + Math.round(4 * grey.area.x) + x);
        if ((x + y) % 9 < 3) soiled.pixels.fill(60, at, at + 3);
      }
    }
    expect(noiseOf(soiled)(56) / noise).toBeLessThan(1.05);
    expect(noiseOf(soiled)(56) / noise).toBeGreaterThan(0.95);
  });

  it('is 0, unknown, when the card is clipped all over', () => {
    const white = encodedRgbRaster(size.width, size.height, new Uint8Array(3 * size.width * size.height).fill(255));
    expect(noiseOf(white)(60)).toBe(0);
  });
});
