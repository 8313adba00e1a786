import { describe, expect, it } from 'vitest';
import { fixture, type FixtureName } from '../../../../fixtures/index.ts';
import { sniffPhotoKind } from '../../../../server/adapters/image/photo-kind.ts';

const latin1 = (text: string): Buffer => Buffer.from(text, 'latin1');
const foundIn = (file: Uint8Array): string => {
  const outcome = sniffPhotoKind(file);
  return outcome.ok || outcome.fault.code !== 'photo-wrong-type' ? 'accepted' : outcome.fault.found;
};

describe('sniffPhotoKind', () => {
  it.each([
    ['card.jpg', 'jpeg'],
    ['card.png', 'png'],
    ['card.webp', 'webp'],
    ['card.tif', 'tiff'],
    ['card.avif', 'avif'],
    ['card.heic', 'heic'],
  ] as [FixtureName, string][])('recognises %s as %s', (name, kind) => {
    expect(sniffPhotoKind(fixture(name).read())).toEqual({ ok: true, value: kind });
  });

  it.each([
    ['text.jpg', 'a text file'],
    ['document.pdf', 'a PDF document'],
    ['drawing.svg', 'an SVG drawing'],
    ['still.gif', 'a GIF picture'],
    ['video.mp4', 'a video'],
    ['noise.jpg', 'a file of unknown type'],
  ] as [FixtureName, string][])('says that %s is %s, whatever its name', (name, found) => {
    expect(foundIn(fixture(name).read())).toBe(found);
  });

  it.each([
    [latin1('BM\x36\0\0\0'), 'a BMP picture'],
    [latin1('\xff\x0a\xfa\x1f'), 'a JPEG XL picture'],
    [latin1('\0\0\0\x0cJXL \r\n\x87\n'), 'a JPEG XL picture'],
    [latin1('\0\0\0\x0cjP  \r\n\x87\n'), 'a JPEG 2000 picture'],
    [latin1('II+\0\x08\0\0\0'), 'a 64-bit TIFF'],
    [latin1('\x1aE\xdf\xa3'), 'a video'],
    [latin1('RIFF\0\0\0\0AVI LIST'), 'a video'],
    [latin1('\0\0\0\x14ftypqt  '), 'a video'],
    [latin1('PK\x03\x04'), 'a ZIP archive'],
    [Buffer.from('<svg width="8"/>'), 'an SVG drawing'],
    [Buffer.from('Schiffswand, geschält'), 'a text file'],
    [latin1('\xff\xd8'), 'a file of unknown type'],
    [latin1('\0\0\0\0'), 'a file of unknown type'],
  ])('names other formats by their leading bytes', (file, found) => {
    expect(foundIn(file)).toBe(found);
  });

  it('takes text whose last letter is cut for text', () => {
    const text = Buffer.from('x'.repeat(1023) + 'ä and more');
    expect(foundIn(text)).toBe('a text file');
  });

  it('counts the pictures of a GIF', () => {
    expect(sniffPhotoKind(fixture('moving.gif').read())).toEqual({
      ok: false,
      fault: { code: 'photo-animated', frames: 2 },
    });
  });
});
