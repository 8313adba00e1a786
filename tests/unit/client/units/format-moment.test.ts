import { describe, expect, it } from 'vitest';
import { formatMinutes } from '../../../../client/units/format-moment.ts';

describe('formatMinutes', () => {
  it('goes over to hours at sixty minutes', () => {
    expect(formatMinutes(45)).toBe('45 min');
    expect(formatMinutes(59.6)).toBe('1 h 00 min');
    expect(formatMinutes(125)).toBe('2 h 05 min');
  });
});
