import { describe, expect, it } from 'vitest';
import { labelCodeOf } from '../../../../client/screens/check/label-code.ts';

describe('labelCodeOf', () => {
  it('reads a typed code, its gap left in or out, and the address in the square code', () => {
    for (const text of ['ZHD81S1A', 'zhd8 1s1a', ' ZHD8-1S1A ', 'https://shop.example/z/ZHD81S1A']) {
      expect(labelCodeOf(text)).toBe('ZHD81S1A');
    }
  });

  it('takes O for 0 and I or L for 1, as the alphabet has it', () => {
    // Crockford's base 32: I and L read as 1, O as 0.
    expect(labelCodeOf('ZHD8IS1A')).toBe('ZHD81S1A');
    expect(labelCodeOf('OOOOOOOO')).toBe('00000000');
  });

  it('refuses anything else', () => {
    for (const text of ['', 'ZHD81S1', 'ZHD81S1AB', 'UUUUUUUU', 'https://shop.example/zones']) {
      expect(labelCodeOf(text)).toBeNull();
    }
  });
});
