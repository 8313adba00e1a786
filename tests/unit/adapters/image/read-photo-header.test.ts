import { describe, expect, it } from 'vitest';
import { fixture, PHOTO_FIXTURE_NAMES, type FixtureName } from '../../../../fixtures/index.ts';
import type { PhotoHeader } from '../../../../server/adapters/image/photo-header.ts';
import { sniffPhotoKind } from '../../../../server/adapters/image/photo-kind.ts';
import { readPhotoHeader } from '../../../../server/adapters/image/read-photo-header.ts';

function headerOf(file: Uint8Array): PhotoHeader {
  const kind = sniffPhotoKind(file);
  const header = kind.ok ? readPhotoHeader(kind.value, file) : kind;
  if (!header.ok) throw new Error(header.fault.code);
  return header.value;
}
const headerOfFixture = (name: FixtureName): PhotoHeader => headerOf(fixture(name).read());

describe('readPhotoHeader', () => {
  it.each(['card.jpg', 'card.png', 'card.webp', 'card-lossless.webp', 'card.tif', 'card.avif', 'card.heic'] as const)(
    'reads the size of %s without decoding it',
    (name) => {
      expect(headerOfFixture(name)).toMatchObject({
        widthPx: 256,
        heightPx: 192,
        frames: 1,
        bitsPerChannel: 8,
        colourObstacle: null,
        icc: null,
      });
    },
  );

  it('reads the bit depth', () => {
    expect(headerOfFixture('card-16bit.png').bitsPerChannel).toBe(16);
    expect(headerOfFixture('card-16bit.tif').bitsPerChannel).toBe(16);
    expect(headerOfFixture('card-10bit.avif').bitsPerChannel).toBe(10);
    expect(headerOfFixture('card-palette.png').bitsPerChannel).toBe(8);
  });

  it('finds the same colour profile in every container, joined from its parts and unpacked', () => {
    const profile = headerOfFixture('card-p3.png').icc;
    expect(profile).not.toBeNull();
    for (const name of ['card-p3.jpg', 'card-p3.webp', 'card-p3.tif', 'card-p3.avif', 'card-p3.heic'] as const) {
      expect(Buffer.from(headerOfFixture(name).icc ?? []).equals(Buffer.from(profile ?? []))).toBe(true);
    }
  });

  it('finds the colour code points where there is no profile', () => {
    for (const name of ['card-p3-code-points.avif', 'card-p3-code-points.heic'] as const) {
      expect(headerOfFixture(name)).toMatchObject({ icc: null, codePoints: { primaries: 12, transfer: 13 } });
    }
  });

  it('ends a JPEG at its own end marker, before what a camera appends', () => {
    const plain = fixture('card.jpg').read();
    expect(headerOfFixture('card-appendix.jpg').pictureBytes).toBe(plain.length);
    expect(headerOfFixture('card.jpg').pictureBytes).toBe(plain.length);
  });

  it('is not misled by an end marker inside a metadata segment', () => {
    const plain = fixture('card.jpg').read();
    const comment = Buffer.from([0xff, 0xfe, 0, 6, 0xff, 0xd9, 0xff, 0xd9]);
    const commented = Buffer.concat([plain.subarray(0, 2), comment, plain.subarray(2)]);
    expect(headerOf(commented).pictureBytes).toBe(commented.length);
  });

  it('places the main picture among the pictures of a HEIC', () => {
    expect(headerOfFixture('card.heic').pictureIndex).toBe(0);
    expect(headerOfFixture('card-second-is-main.heic').pictureIndex).toBe(1);
    // The four tiles are hidden, so the grid is the only picture.
    expect(headerOfFixture('card-grid-turned-p3.heic').pictureIndex).toBe(0);
  });

  it('says which part of a file stops short', () => {
    for (const name of ['card.jpg', 'card.png', 'card.webp', 'card.avif', 'card.heic'] as const) {
      const file = fixture(name).read();
      expect(headerOf(file).pictureBytes).toBe(file.length);
      expect(headerOf(file.subarray(0, -1)).pictureBytes).toBeNull();
    }
  });

  it('counts the pictures of a file', () => {
    expect(headerOfFixture('moving.png').frames).toBe(2);
    expect(headerOfFixture('moving.webp').frames).toBe(2);
    expect(headerOfFixture('two-pages.tif').frames).toBe(2);
  });

  it('does not take the thumbnail of a TIFF for a second picture, nor a loop of directories for many', () => {
    const file = fixture('two-pages.tif').read();
    const second = file.readUInt32LE(8 + 2 + 12 * file.readUInt16LE(8));
    const asThumbnail = Buffer.from(file);
    // The first entry of the second directory (width, tag 256) becomes a subfile type (tag 254) with the reduced bit.
    asThumbnail.writeUInt16LE(254, second + 2);
    asThumbnail.writeUInt32LE(1, second + 2 + 8);
    expect(headerOf(asThumbnail).frames).toBe(1);
    const looped = Buffer.from(file);
    looped.writeUInt32LE(second, second + 2 + 12 * file.readUInt16LE(second));
    expect(headerOf(looped).frames).toBe(2);
  });

  it('answers every beginning of every photo with a header or a fault', () => {
    for (const name of PHOTO_FIXTURE_NAMES) {
      const file = fixture(name).read();
      const kind = sniffPhotoKind(file);
      if (!kind.ok) throw new Error(`${name} is not a photo`);
      for (let length = 0; length < Math.min(file.length, 1500); length += 3) {
        const outcome = readPhotoHeader(kind.value, file.subarray(0, length));
        if (outcome.ok && kind.value !== 'tiff') expect(outcome.value.pictureBytes).toBeNull();
      }
    }
  });
});
