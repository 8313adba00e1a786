import { describe, expect, it } from 'vitest';
import { canonicalBytes, canonicalJson } from '../../../server/evidence/canonical-json.ts';

/** RFC 8785, appendix B: IEEE 754 bits and the text that they must have. From memory; the platform's own printing agrees. */
const NUMBERS: readonly (readonly [bits: string, text: string])[] = [
  ['0000000000000000', '0'],
  ['8000000000000000', '0'],
  ['0000000000000001', '5e-324'],
  ['8000000000000001', '-5e-324'],
  ['7fefffffffffffff', '1.7976931348623157e+308'],
  ['ffefffffffffffff', '-1.7976931348623157e+308'],
  ['4340000000000000', '9007199254740992'],
  ['c340000000000000', '-9007199254740992'],
  ['4430000000000000', '295147905179352830000'],
  ['44b52d02c7e14af5', '9.999999999999997e+22'],
  ['44b52d02c7e14af6', '1e+23'],
  ['44b52d02c7e14af7', '1.0000000000000001e+23'],
  ['444b1ae4d6e2ef4e', '999999999999999700000'],
  ['444b1ae4d6e2ef4f', '999999999999999900000'],
  ['444b1ae4d6e2ef50', '1e+21'],
  ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
  ['3eb0c6f7a0b5ed8d', '0.000001'],
  ['41b3de4355555553', '333333333.3333332'],
  ['41b3de4355555554', '333333333.33333325'],
  ['41b3de4355555555', '333333333.3333333'],
  ['41b3de4355555556', '333333333.3333334'],
  ['41b3de4355555557', '333333333.33333343'],
  ['becbf647612f3696', '-0.0000033333333333333333'],
  ['43143ff3c1cb0959', '1424953923781206.2'],
];

const fromBits = (bits: string): number => Buffer.from(bits, 'hex').readDoubleBE(0);

describe('canonical JSON', () => {
  it.each(NUMBERS)('prints the number with bits %s as %s (RFC 8785, appendix B)', (bits, text) => {
    expect(canonicalJson(fromBits(bits))).toBe(text);
  });

  it.each([['7fffffffffffffff'], ['7ff0000000000000'], ['fff0000000000000']])(
    'refuses the bits %s, which are no number of JSON (RFC 8785, appendix B)',
    (bits) => {
      expect(() => canonicalJson(fromBits(bits))).toThrow(RangeError);
    },
  );

  it('spells the sample of RFC 8785, 3.2.2, as its 3.2.3 does', () => {
    const sample = JSON.parse(
      String.raw`{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001], "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]}`,
    ) as unknown;
    expect(canonicalJson(sample)).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  it('gives the sample the bytes of RFC 8785, 3.2.4', () => {
    const bytes = canonicalBytes({ string: '€$\u000f\nA\'B"\\\\"/', literals: [null, true, false] });
    expect(Buffer.from(bytes).toString('hex')).toBe(
      '7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d',
    );
  });

  it('sorts keys by their UTF-16 units, as the example in RFC 8785, 3.2.3', () => {
    const example = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    const values = [...canonicalJson(example).matchAll(/:"([^"]+)"/g)].map(([, value]) => value);
    expect(values).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  it('leaves out fields that are undefined, and keeps null', () => {
    expect(canonicalJson({ b: undefined, a: null })).toBe('{"a":null}');
  });

  it.each([
    ['a lone surrogate in a text', { a: '\ud800' }],
    ['a lone surrogate in a key', { '\udc00': 1 }],
    ['an undefined item of a list', [undefined]],
    ['a function', { a: () => 1 }],
    ['a big integer', 1n],
  ])('refuses %s', (_what, value) => {
    expect(() => canonicalJson(value)).toThrow(RangeError);
  });
});
