import { describe, expect, it } from 'vitest';
import { readNumber } from '@domain/read-number.ts';

describe('readNumber', () => {
  it('takes a comma for a point', () => {
    expect(readNumber('12,5')).toBe(12.5);
    expect(readNumber(' 12.5 ')).toBe(12.5);
    expect(readNumber('.5')).toBe(0.5);
    expect(readNumber('12.')).toBe(12);
  });

  it('tells an empty text from a text that is no number', () => {
    expect(readNumber('  ')).toBeNull();
    for (const text of ['12 mm', '1,234.5', 'NaN', '1e400', '-', '.']) expect(readNumber(text)).toBeUndefined();
  });
});
