import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  BROKEN_FIXTURE_NAMES,
  fixture,
  meanOfPatch,
  PHOTO_FIXTURE_NAMES,
  PICTURE_HEIGHT_PX,
  PICTURE_PATCHES,
  PICTURE_WIDTH_PX,
  type BrokenFixtureName,
  type PhotoFixtureName,
} from '../../fixtures/index.ts';
import { sharpPhotoDecoder } from '../../server/adapters/image/sharp-photo-decoder.ts';
import { FAULT_CODES, faultSentence, type FaultCode } from '../../server/domain/index.ts';
import type { PhotoDecoder } from '../../server/services/ports.ts';

/**
 * Most that a patch mean may be off, in codes of 255. Lossless formats must be exact. The lossy ones were encoded here at
 * high quality; their error is the encoder's: measured 1.0 for JPEG, AVIF and HEIC, 0.6 for AVIF of 10 bits, 2.3 for WebP.
 */
const TOLERANCES: Partial<Record<PhotoFixtureName, number>> = {
  'card.png': 0,
  'card-opaque-alpha.png': 0,
  'card-palette.png': 0,
  'card-gamma.png': 0,
  'card-16bit.png': 0,
  'card-16bit.tif': 0,
  'card.tif': 0,
  'card-lossless.webp': 0,
  'card.webp': 3,
  'card.jpg': 1.5,
  'card-progressive.jpg': 1.5,
  'card-appendix.jpg': 1.5,
  'card-srgb-tagged.jpg': 1.5,
  'card.avif': 1.5,
  'card-10bit.avif': 1,
  'card.heic': 1.5,
  'card-second-is-main.heic': 1.5,
};

const EXPECTED_FAULTS: Record<BrokenFixtureName, FaultCode> = {
  'empty.jpg': 'file-empty',
  'cut.jpg': 'photo-truncated',
  'cut-progressive.jpg': 'photo-truncated',
  'cut.png': 'photo-truncated',
  'cut.webp': 'photo-truncated',
  'cut-before-directory.tif': 'photo-truncated',
  'cut-after-directory.tif': 'photo-truncated',
  'cut.avif': 'photo-truncated',
  'cut.heic': 'photo-truncated',
  'hollow.jpg': 'photo-truncated',
  'hollow.heic': 'photo-truncated',
  'damaged.png': 'photo-truncated',
  'no-pixel.png': 'photo-truncated',
  'text.jpg': 'photo-wrong-type',
  'document.pdf': 'photo-wrong-type',
  'drawing.svg': 'photo-wrong-type',
  'still.gif': 'photo-wrong-type',
  'video.mp4': 'photo-wrong-type',
  'camera-raw.dng': 'photo-wrong-type',
  'preview.nef': 'photo-wrong-type',
  'rare-process.jpg': 'photo-wrong-type',
  'noise.jpg': 'photo-wrong-type',
  'moving.gif': 'photo-animated',
  'moving.webp': 'photo-animated',
  'moving.png': 'photo-animated',
  'two-pages.tif': 'photo-animated',
  'moving.avif': 'photo-animated',
  'one-pixel.png': 'photo-too-small',
  'narrow.png': 'photo-too-small',
  'huge-claim.png': 'photo-too-large',
  'huge-packed.png': 'photo-too-large',
  'huge-claim.jpg': 'photo-too-large',
  'huge-claim.webp': 'photo-too-large',
  'huge-claim.tif': 'photo-too-large',
  'huge.avif': 'photo-too-large',
  'huge.heic': 'photo-too-large',
  'small-claim.heic': 'photo-truncated',
  'small-claim.avif': 'photo-truncated',
  'packed-profile.png': 'photo-icc-broken',
  'cmyk.jpg': 'photo-colour-model',
  'cmyk.tif': 'photo-colour-model',
  'lab.tif': 'photo-colour-model',
  'float.tif': 'photo-colour-model',
  'grey.jpg': 'photo-colour-model',
  'grey.png': 'photo-colour-model',
  'grey-alpha.png': 'photo-colour-model',
  'grey.tif': 'photo-colour-model',
  'grey.avif': 'photo-colour-model',
  'grey.heic': 'photo-colour-model',
  'hdr.avif': 'photo-colour-model',
  'wide.avif': 'photo-colour-model',
  'clear-pixel.png': 'photo-transparent',
  'clear-pixel.webp': 'photo-transparent',
  'clear-pixel.tif': 'photo-transparent',
  'clear-colour.png': 'photo-transparent',
  'half-clear.heic': 'photo-transparent',
  'exif-no-header.jpg': 'photo-exif-broken',
  'exif-no-header.png': 'photo-exif-broken',
  'exif-no-header.webp': 'photo-exif-broken',
  'exif-outside.jpg': 'photo-exif-broken',
  'exif-too-many-entries.jpg': 'photo-exif-broken',
  'exif-orientation-9.jpg': 'photo-exif-broken',
  'exif-orientation-long.jpg': 'photo-exif-broken',
  'exif-orientation-twice.jpg': 'photo-exif-broken',
  'orientation-9.tif': 'photo-exif-broken',
  'icc-longer.jpg': 'photo-icc-broken',
  'icc-stub.jpg': 'photo-icc-broken',
  'icc-no-signature.jpg': 'photo-icc-broken',
  'icc-for-grey.jpg': 'photo-icc-broken',
  'icc-for-cmyk.png': 'photo-icc-broken',
  'icc-link.jpg': 'photo-icc-broken',
  'icc-many-tags.jpg': 'photo-icc-broken',
  'icc-tag-outside.jpg': 'photo-icc-broken',
  'icc-no-colours.jpg': 'photo-icc-broken',
  'icc-bad-curve.jpg': 'photo-icc-broken',
  'icc-bad-curve.heic': 'photo-icc-broken',
  'icc-endless-primary.jpg': 'photo-icc-broken',
  'icc-bad-table.png': 'photo-icc-broken',
  'icc-table.heic': 'photo-colour-model',
  'icc-part-missing.jpg': 'photo-icc-broken',
  'icc-not-packed.png': 'photo-icc-broken',
  'icc-outside.tif': 'photo-icc-broken',
};

function describePhotoDecoder(adapterName: string, createDecoder: () => PhotoDecoder): void {
  describe(`${adapterName} as a photo decoder`, () => {
    const decoder = createDecoder();

    it.each(Object.entries(TOLERANCES) as [PhotoFixtureName, number][])(
      'decodes %s to the picture it was made of, within %d codes',
      async (name, tolerance) => {
        const outcome = await decoder.decode(fixture(name).read());
        if (!outcome.ok) throw new Error(faultSentence(outcome.fault));
        const { raster } = outcome.value;
        expect([raster.width, raster.height]).toEqual([PICTURE_WIDTH_PX, PICTURE_HEIGHT_PX]);
        for (const patch of PICTURE_PATCHES) {
          const codes = meanOfPatch(raster, patch).map((code) => (code * 255) / raster.maxCode);
          codes.forEach((code, channel) => {
            expect(Math.abs(code - patch.rgb[channel])).toBeLessThanOrEqual(tolerance);
          });
        }
      },
    );

    it.each(PHOTO_FIXTURE_NAMES)('gives %s as an sRGB raster whose pixels fit its size and bit depth', async (name) => {
      const outcome = await decoder.decode(fixture(name).read());
      if (!outcome.ok) throw new Error(faultSentence(outcome.fault));
      const { raster } = outcome.value;
      expect(raster.encoding).toBe('srgb');
      expect(raster.pixels).toHaveLength(3 * raster.width * raster.height);
      const isDeep = name.includes('16bit') || name.includes('10bit');
      expect(raster.maxCode).toBe(isDeep ? 65535 : 255);
      expect(raster.pixels).toBeInstanceOf(isDeep ? Uint16Array : Uint8Array);
      expect(raster.pixels).not.toBeInstanceOf(Buffer);
    });

    it('names the file by the SHA-256 of its bytes', async () => {
      const file = fixture('card.jpg').read();
      const outcome = await decoder.decode(file);
      const expected = createHash('sha256').update(file).digest('hex');
      expect(outcome.ok && outcome.value.sha256).toBe(expected);
    });

    it('leaves the bytes it was given unchanged', async () => {
      for (const name of ['card-p3.jpg', 'card-opaque-alpha.png', 'card-p3.heic'] as const) {
        const file = fixture(name).read();
        const before = Buffer.from(file);
        await decoder.decode(file);
        expect(file.equals(before)).toBe(true);
      }
    });

    it('takes bytes that begin in the middle of a larger buffer', async () => {
      const file = fixture('card-16bit.png').read();
      const larger = new Uint8Array(file.length + 7);
      larger.set(file, 3);
      const outcome = await decoder.decode(larger.subarray(3, 3 + file.length));
      const direct = await decoder.decode(file);
      expect(outcome).toEqual(direct);
    });

    it('gives the same result for photos decoded side by side as one after the other', async () => {
      const names = ['card.jpg', 'card-p3.png', 'card.heic', 'orientation-6.jpg'] as const;
      const together = await Promise.all(names.map((name) => decoder.decode(fixture(name).read())));
      for (const [index, name] of names.entries()) {
        expect(together[index]).toEqual(await decoder.decode(fixture(name).read()));
      }
    });

    it.each(Object.entries(EXPECTED_FAULTS) as [BrokenFixtureName, FaultCode][])(
      'refuses %s as %s with a sentence for the operator',
      async (name, code) => {
        const outcome = await decoder.decode(fixture(name).read());
        expect(outcome.ok ? 'decoded' : outcome.fault.code).toBe(code);
        if (outcome.ok) return;
        const sentence = faultSentence(outcome.fault);
        expect(sentence).toMatch(/^[A-Z\d].{20,}[.]$/);
        expect(sentence).not.toMatch(/undefined|NaN|\[object|node_modules/);
      },
    );

    it('has a fixture for every fault it can give', () => {
      expect(Object.keys(EXPECTED_FAULTS).sort()).toEqual([...BROKEN_FIXTURE_NAMES].sort());
      const given = new Set<FaultCode>(Object.values(EXPECTED_FAULTS));
      expect(FAULT_CODES.filter((code) => code.startsWith('photo-') && !given.has(code))).toEqual([]);
    });
  });
}

describePhotoDecoder('sharpPhotoDecoder', sharpPhotoDecoder);
