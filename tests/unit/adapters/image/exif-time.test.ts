import fc from 'fast-check';
import sharp from 'sharp';
import type { Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { readExifTime } from '../../../../server/adapters/image/exif-time.ts';
import { sharpPhotoDecoder } from '../../../../server/adapters/image/sharp-photo-decoder.ts';
import type { PhotoTime } from '../../../../server/domain/index.ts';

const decoder = sharpPhotoDecoder();

/** A picture whose EXIF block libvips (libexif) wrote: the writer is not ours. */
const pictureWith = (exif: Record<string, string>): Sharp =>
  sharp({ create: { width: 800, height: 600, channels: 3, background: '#888' } }).withExif({ IFD2: exif });

async function timeIn(picture: Promise<Buffer>): Promise<PhotoTime | null> {
  const decoded = await decoder.decode(await picture);
  if (!decoded.ok) throw new Error(decoded.fault.code);
  return decoded.value.takenAt;
}

const SAID = { DateTimeOriginal: '2026:11:24 10:26:03', OffsetTimeOriginal: '+01:00' };
const READ = { localTime: '2026-11-24T10:26:03', utcOffset: '+01:00' };

describe('the time that a phone wrote into its photo', () => {
  it('is read with its offset from JPEG, PNG, WebP and the HEIF container', async () => {
    expect(await timeIn(pictureWith(SAID).jpeg().toBuffer())).toEqual(READ);
    expect(await timeIn(pictureWith(SAID).png().toBuffer())).toEqual(READ);
    expect(await timeIn(pictureWith(SAID).webp().toBuffer())).toEqual(READ);
    expect(await timeIn(pictureWith(SAID).avif({ effort: 0 }).toBuffer())).toEqual(READ);
  });

  it('has no offset where the phone wrote none, and is never moved to UTC then', async () => {
    const { DateTimeOriginal } = SAID;
    expect(await timeIn(pictureWith({ DateTimeOriginal }).jpeg().toBuffer())).toEqual({ ...READ, utcOffset: null });
    const odd = pictureWith({ DateTimeOriginal, OffsetTimeOriginal: 'local' });
    expect(await timeIn(odd.jpeg().toBuffer())).toEqual({ ...READ, utcOffset: null });
  });

  it('is not known where the file says nothing, or what is no time', async () => {
    expect(await timeIn(pictureWith({ UserComment: 'x' }).jpeg().toBuffer())).toBeNull();
    for (const DateTimeOriginal of ['0000:00:00 00:00:00', '    :  :     :  :  ', '2026:02:30 10:00:00', 'yesterday']) {
      expect(await timeIn(pictureWith({ DateTimeOriginal }).jpeg().toBuffer())).toBeNull();
    }
  });

  it('answers any bytes with a time or none, never by throwing', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 96 }), (bytes) => {
        const answer = readExifTime(Buffer.concat([Buffer.from('II*\0\x08\0\0\0', 'latin1'), bytes]));
        expect(answer === null || typeof answer.localTime === 'string').toBe(true);
      }),
    );
  });
});
