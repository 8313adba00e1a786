import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readToneCurve, type ToneCurve } from '../../../../server/adapters/image/tone-curve.ts';
import { decodeSrgb } from '../../../../server/measure/colour/srgb.ts';

/** Tag layouts: ICC.1 curveType and parametricCurveType, memory. */
function sampledTag(samples: readonly number[]): Buffer {
  const tag = Buffer.alloc(12 + 2 * samples.length);
  tag.write('curv', 0, 'latin1');
  tag.writeUInt32BE(samples.length, 8);
  samples.forEach((sample, index) => tag.writeUInt16BE(sample, 12 + 2 * index));
  return tag;
}
function parametricTag(type: number, parameters: readonly number[]): Buffer {
  const tag = Buffer.alloc(12 + 4 * parameters.length);
  tag.write('para', 0, 'latin1');
  tag.writeUInt16BE(type, 8);
  parameters.forEach((value, index) => tag.writeInt32BE(Math.round(value * 65536), 12 + 4 * index));
  return tag;
}
function curveOf(tag: Buffer): ToneCurve {
  const curve = readToneCurve(tag);
  if (curve === null) throw new Error('no curve');
  return curve;
}

describe('readToneCurve', () => {
  it('reads a curve without entries as the identity', () => {
    expect(curveOf(sampledTag([]))(0.37)).toBe(0.37);
  });

  it('reads a single entry as a power in steps of 1/256: 563/256 is the gamma of Adobe RGB (1998)', () => {
    expect(curveOf(sampledTag([563]))(0.5)).toBeCloseTo(0.5 ** 2.19921875, 12);
  });

  it('draws straight lines between the samples of a table', () => {
    const curve = curveOf(sampledTag([0, 16384, 65535]));
    expect(curve(0)).toBe(0);
    expect(curve(0.25)).toBeCloseTo(8192 / 65535, 12);
    expect(curve(0.5)).toBeCloseTo(16384 / 65535, 12);
    expect(curve(1)).toBe(1);
  });

  it('reads the parametric form of sRGB as sRGB (IEC 61966-2-1), within the 16 fraction bits of its parameters', () => {
    const curve = curveOf(parametricTag(3, [2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045]));
    for (let code = 0; code < 256; code += 1) expect(curve(code / 255)).toBeCloseTo(decodeSrgb(code / 255), 4);
  });

  it('computes each parametric type as ICC.1 has it (memory)', () => {
    expect(curveOf(parametricTag(0, [2]))(0.5)).toBeCloseTo(0.25, 12);
    const one = curveOf(parametricTag(1, [2, 0.5, -0.125]));
    expect([one(0.2), one(0.75)]).toEqual([0, 0.0625]);
    const two = curveOf(parametricTag(2, [2, 0.5, -0.125, 0.25]));
    expect([two(0.2), two(0.75)]).toEqual([0.25, 0.3125]);
    const three = curveOf(parametricTag(3, [2, 0.5, 0.25, 0.125, 0.5]));
    expect([three(0.25), three(0.5)]).toEqual([0.03125, 0.25]);
    const four = curveOf(parametricTag(4, [2, 0.5, 0.25, 0.125, 0.5, 0.125, 0.0625]));
    expect([four(0.25), four(0.5)]).toEqual([0.09375, 0.375]);
  });

  it('refuses unknown types and curves that are cut', () => {
    expect(readToneCurve(Buffer.from('nope\0\0\0\0\0\0\0\0', 'latin1'))).toBeNull();
    expect(readToneCurve(Buffer.alloc(0))).toBeNull();
    expect(readToneCurve(parametricTag(5, [1]))).toBeNull();
    expect(readToneCurve(parametricTag(3, [2.4, 1]))).toBeNull();
    expect(readToneCurve(sampledTag([1, 2, 3]).subarray(0, 16))).toBeNull();
    const endless = sampledTag([1, 2]);
    endless.writeUInt32BE(0xffffffff, 8);
    expect(readToneCurve(endless)).toBeNull();
  });

  it('stays within 0..1 whatever the parameters', () => {
    const parameter = fc.double({ min: -32768, max: 32767, noNaN: true });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4 }), fc.array(parameter, { minLength: 7, maxLength: 7 }), (type, all) => {
        const curve = curveOf(parametricTag(type, all));
        for (const code of [0, 0.003, 0.25, 0.5, 0.75, 1]) {
          expect(curve(code)).toBeGreaterThanOrEqual(0);
          expect(curve(code)).toBeLessThanOrEqual(1);
        }
      }),
    );
  });
});
