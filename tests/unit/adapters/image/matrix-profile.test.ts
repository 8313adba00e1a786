import { converter } from 'culori';
import { describe, expect, it } from 'vitest';
import { ADOBE_RGB, buildMatrixProfile, DISPLAY_P3, SRGB } from '../../../../fixtures/index.ts';
import {
  DISPLAY_P3_PROFILE,
  isPlainSrgb,
  readMatrixProfile,
  type MatrixProfile,
} from '../../../../server/adapters/image/matrix-profile.ts';

const toLinearSrgb = converter('lrgb');

function read(icc: Buffer): MatrixProfile {
  const profile = readMatrixProfile(icc);
  if (profile === null) throw new Error('no profile');
  return profile;
}

/** Columns of the matrix by an independent library: the primaries of the space in linear sRGB. */
function matrixByCulori(mode: 'p3' | 'a98'): number[] {
  const columns = [
    { mode, r: 1, g: 0, b: 0 },
    { mode, r: 0, g: 1, b: 0 },
    { mode, r: 0, g: 0, b: 1 },
  ].map((colour) => toLinearSrgb(colour));
  return (['r', 'g', 'b'] as const).flatMap((channel) => columns.map((colour) => colour[channel]));
}

const largestDifference = (one: readonly number[], other: readonly number[]): number =>
  Math.max(...one.map((value, index) => Math.abs(value - other[index])));

describe('readMatrixProfile', () => {
  it('finds the matrix of Display P3 and Adobe RGB that culori computes from the published primaries', () => {
    const p3 = buildMatrixProfile({ description: 'test', primaries: DISPLAY_P3, curve: 'srgb' });
    const adobe = buildMatrixProfile({ description: 'test', primaries: ADOBE_RGB, curve: { gamma: 2.19921875 } });
    // Profiles keep 16 fraction bits, and whites of four and of five digits differ by 2e-4.
    expect(largestDifference(read(p3).toLinearSrgb, matrixByCulori('p3'))).toBeLessThan(5e-4);
    expect(largestDifference(read(adobe).toLinearSrgb, matrixByCulori('a98'))).toBeLessThan(5e-4);
  });

  it('takes white to white', () => {
    const profile = read(buildMatrixProfile({ description: 'test', primaries: DISPLAY_P3, curve: 'srgb' }));
    for (const row of [0, 3, 6]) {
      const [r, g, b] = profile.toLinearSrgb.slice(row, row + 3);
      expect(r + g + b).toBeCloseTo(1, 4);
    }
  });

  it('refuses curves and primaries that cannot be read, and primaries no space has', () => {
    const sound = buildMatrixProfile({ description: 'test', primaries: SRGB, curve: 'srgb' });
    const withoutCurve = Buffer.from(sound);
    withoutCurve.write('nope', sound.lastIndexOf('para'), 'latin1');
    expect(readMatrixProfile(withoutCurve)).toBeNull();
    const withoutPrimary = Buffer.from(sound);
    withoutPrimary.write('nope', sound.lastIndexOf('XYZ '), 'latin1');
    expect(readMatrixProfile(withoutPrimary)).toBeNull();
    const absurd = Buffer.from(sound);
    absurd.writeInt32BE(0x7fffffff, sound.lastIndexOf('XYZ ') + 8);
    expect(readMatrixProfile(absurd)).toBeNull();
  });
});

describe('DISPLAY_P3_PROFILE', () => {
  it('is the matrix culori computes, to the digits it is written with', () => {
    expect(largestDifference(DISPLAY_P3_PROFILE.toLinearSrgb, matrixByCulori('p3'))).toBeLessThan(1e-6);
  });
});

describe('isPlainSrgb', () => {
  it('knows sRGB by its values, whatever it is called', () => {
    expect(isPlainSrgb(read(buildMatrixProfile({ description: 'x', primaries: SRGB, curve: 'srgb' })))).toBe(true);
  });

  it('is not taken in by the name, by other primaries or by another curve', () => {
    const called = { description: 'sRGB IEC61966-2.1' };
    expect(isPlainSrgb(read(buildMatrixProfile({ ...called, primaries: DISPLAY_P3, curve: 'srgb' })))).toBe(false);
    expect(isPlainSrgb(read(buildMatrixProfile({ ...called, primaries: SRGB, curve: { gamma: 2.2 } })))).toBe(false);
    expect(isPlainSrgb(read(buildMatrixProfile({ ...called, primaries: SRGB, curve: { gamma: 1 } })))).toBe(false);
  });

  it('accepts the rounding of old sRGB profiles: red primary 0.43585 where 0.43607 is exact', () => {
    // Colorants of a widely copied sRGB profile of 2004, read from the profile.
    const icc = buildMatrixProfile({ description: 'x', primaries: SRGB, curve: 'srgb' });
    const old = [
      [0.43585, 0.22238, 0.01392],
      [0.38533, 0.71704, 0.09714],
      [0.14302, 0.06059, 0.71384],
    ];
    let at = icc.indexOf('XYZ ', 132);
    for (const column of old) {
      at = icc.indexOf('XYZ ', at + 4);
      column.forEach((value, index) => icc.writeInt32BE(Math.round(value * 65536), at + 8 + 4 * index));
    }
    expect(isPlainSrgb(read(icc))).toBe(true);
  });
});
