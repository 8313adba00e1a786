import { describe, expect, it } from 'vitest';
import { findHevcDamage } from '../../../../server/adapters/image/hevc-units.ts';

/** A unit with its length in front, as HEIC stores it. */
const unit = (...bytes: readonly number[]): number[] => [0, 0, 0, bytes.length, ...bytes];
const damageIn = (...units: readonly number[][]): string | null => findHevcDamage(Uint8Array.from(units.flat()), 4);

describe('findHevcDamage', () => {
  it('finds nothing in whole units', () => {
    expect(damageIn(unit(0x26, 1, 0xaf), unit(0x26, 1, 9, 8, 7))).toBeNull();
    expect(findHevcDamage(new Uint8Array(0), 4)).toBeNull();
    expect(findHevcDamage(Uint8Array.of(2, 0x26, 1), 1)).toBeNull();
  });

  it('lets the escaped zeros pass that coded data may hold (H.265 section 7.4.2, memory)', () => {
    expect(damageIn(unit(0x26, 1, 0, 0, 3, 0, 0, 3, 1))).toBeNull();
  });

  it.each([0, 1, 2])('finds the forbidden run 00 00 0%d', (last) => {
    expect(damageIn(unit(0x26, 1, 5, 5), unit(0x26, 0, 0, last, 5))).toBe(
      'the coded picture has a hole after its byte 8',
    );
  });

  it('finds a unit that breaks off, and one without bytes', () => {
    expect(damageIn([0, 0, 0, 9, 0x26, 1])).toBe('the coded picture breaks off at its byte 0');
    expect(damageIn(unit(0x26, 1, 4), unit())).toBe('the coded picture breaks off at its byte 7');
    expect(damageIn([0, 0, 1])).toBe('the coded picture breaks off at its byte 0');
  });
});
