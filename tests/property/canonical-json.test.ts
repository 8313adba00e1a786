import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../server/evidence/canonical-json.ts';

const json = fc
  .jsonValue({ noUnicodeString: false, maxDepth: 4 })
  .filter((value) => !/\p{Surrogate}/u.test(JSON.stringify(value)) && !JSON.stringify(value).includes('\\ud'));

describe('canonical JSON of any value', () => {
  it('reads back as the same value', () => {
    fc.assert(
      fc.property(json, (value) => {
        // Through JSON first: it knows no negative zero.
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
      { seed: 8785 },
    );
  });

  it('does not depend on the order in which fields were set', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.integer()), (value) => {
        const turned = Object.fromEntries(Object.entries(value).reverse());
        expect(canonicalJson(turned)).toBe(canonicalJson(value));
      }),
      { seed: 8785 },
    );
  });

  it('is a fixed point: the text of the text read back is the same text', () => {
    fc.assert(
      fc.property(json, (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
      }),
      { seed: 8785 },
    );
  });
});
