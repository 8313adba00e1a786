import { describe, expect, it } from 'vitest';
import { randomTokens, timeOrderedUuid } from '../../../../server/adapters/security/random-tokens.ts';

describe('ids', () => {
  it('are the example of the standard for its moment and its random bits', () => {
    // RFC 9562, appendix A.6: 2022-02-22 19:22:22 UTC, rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F (from memory).
    const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
    expect(timeOrderedUuid(0x017f22e279b0, random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
  });

  it('carry version and variant whatever the random bits are', () => {
    for (const byte of [0, 255]) {
      const id = timeOrderedUuid(1, new Uint8Array(10).fill(byte));
      expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    }
  });

  it('sort by time', () => {
    let now = 1_700_000_000_000;
    const tokens = randomTokens(() => (now += 1));
    const ids = Array.from({ length: 100 }, () => tokens.newId());
    expect([...ids].sort()).toEqual(ids);
  });
});

describe('tokens and label codes', () => {
  const tokens = randomTokens(() => 0);

  it('are never the same, and long enough', () => {
    const made = Array.from({ length: 1000 }, () => tokens.newToken());
    expect(new Set(made).size).toBe(1000);
    for (const token of made) expect(token).toMatch(/^[\w-]{43}$/);
  });

  it('of labels use signs that are not mistaken for one another, all of them about equally often', () => {
    const codes = Array.from({ length: 4000 }, () => tokens.newLabelCode()).join('');
    const counts = new Map<string, number>();
    for (const sign of codes) {
      counts.set(sign, (counts.get(sign) ?? 0) + 1);
    }
    expect([...counts.keys()].sort().join('')).toBe('0123456789ABCDEFGHJKMNPQRSTVWXYZ');
    // 32000 signs over 32: 1000 each, standard deviation about 31.
    for (const count of counts.values()) expect(Math.abs(count - 1000)).toBeLessThan(200);
  });

  it('are stored as SHA-256', () => {
    // FIPS 180-4, example of SHA-256 for "abc".
    expect(tokens.hashOf('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });
});
