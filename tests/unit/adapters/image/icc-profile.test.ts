import { describe, expect, it } from 'vitest';
import { buildMatrixProfile, DISPLAY_P3, fixture, SRGB } from '../../../../fixtures/index.ts';
import { findIccObstacle, hasColourTable, readIccTag } from '../../../../server/adapters/image/icc-profile.ts';
import { readPngHeader } from '../../../../server/adapters/image/png-header.ts';

const PROFILE = buildMatrixProfile({ description: 'test', primaries: SRGB, curve: 'srgb' });
const changed = (offset: number, bytes: string | number): Buffer => {
  const copy = Buffer.from(PROFILE);
  if (typeof bytes === 'string') copy.write(bytes, offset, 'latin1');
  else copy.writeUInt32BE(bytes, offset);
  return copy;
};

describe('findIccObstacle', () => {
  it('finds nothing against a sound profile, be it a matrix or a table', () => {
    expect(findIccObstacle(PROFILE)).toBeNull();
    const png = readPngHeader(fixture('card-p3-table.png').read());
    expect(png.ok && png.value.icc !== null && findIccObstacle(png.value.icc)).toBeNull();
    expect(png.ok && png.value.icc !== null && hasColourTable(png.value.icc)).toBe(true);
    expect(hasColourTable(PROFILE)).toBe(false);
  });

  it.each([
    ['a length that is not its own', changed(0, PROFILE.length + 1), /announces/],
    ['no signature', changed(36, 'none'), /signature/],
    ['the class of a device link', changed(12, 'link'), /class is "link"/],
    ['grey samples', changed(16, 'GRAY'), /"GRAY" samples, expected RGB/],
    ['another connection space', changed(20, 'Luv '), /connection space is "Luv "/],
    ['no tags', changed(128, 0), /0 entries/],
    ['an absurd number of tags', changed(128, 0xffffffff), /4294967295 entries/],
    ['more tags than fit', changed(128, 150), /150 entries is cut/],
    ['a tag inside its table', changed(136, 140), /"desc" lies outside/],
    ['a tag beyond its end', changed(140, 0x7fffffff), /"desc" lies outside/],
    ['no blue primary', changed(PROFILE.indexOf('bXYZ'), 'none'), /lacks the tags/],
    ['unprintable letters', changed(16, '\x01\x02\x03\x04'), /"\?\?\?\?"/],
    ['only a beginning', PROFILE.subarray(0, 100), /only 100 bytes/],
    ['too many bytes', Buffer.alloc(4 * 1024 * 1024 + 1), /at most/],
  ])('refuses a profile with %s', (_, profile, reason) => {
    expect(findIccObstacle(profile)).toMatch(reason);
  });

  it('answers every beginning of a profile', () => {
    for (let length = 0; length < PROFILE.length; length += 1) {
      expect(findIccObstacle(PROFILE.subarray(0, length))).not.toBeNull();
    }
  });
});

describe('readIccTag', () => {
  it('gives the bytes of a tag, and none for a tag that is not there', () => {
    const p3 = buildMatrixProfile({ description: 'test', primaries: DISPLAY_P3, curve: 'srgb' });
    expect(Buffer.from(readIccTag(p3, 'rXYZ')).toString('latin1', 0, 4)).toBe('XYZ ');
    expect(readIccTag(p3, 'none')).toHaveLength(0);
  });
});
