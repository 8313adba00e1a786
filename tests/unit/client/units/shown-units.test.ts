import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatShare, formatShareInterval, shownUnits } from '../../../../client/units/shown-units.ts';

const metric = shownUnits('millimetres');
const inches = shownUnits('inches');

describe('shown units', () => {
  it('turns lengths and areas into inches and square feet by their exact definitions', () => {
    // NIST SP 811, appendix B.8: 1 in = 25.4 mm, 1 ft2 = 9.290304e-2 m2.
    expect(inches.length(25.4)).toBe('1 in');
    expect(inches.length(76)).toBe('2.99 in');
    expect(inches.area(0.09290304)).toBe('1 ft²');
    expect(inches.areaOf(1)).toBeCloseTo(10.7639, 4);
  });

  it('shows fewer minutes for a square foot than for a square metre', () => {
    // 10.7639 min/m2 is one minute for each of the 10.7639 square feet.
    expect(inches.rate(10.7639104)).toBe('1 min/ft²');
    expect(metric.rate(2.2222)).toBe('2.22 min/m²');
  });

  it('keeps three digits at most and no false decimals', () => {
    expect(metric.length(3.2264)).toBe('3.2 mm');
    expect(metric.length(150)).toBe('150 mm');
    expect(metric.speed(64.528)).toBe('64.5 mm/s');
    expect(metric.length(0)).toBe('0 mm');
    expect(metric.area(12.345)).toBe('12.3 m²');
  });

  it('finds the millimetres again that a typed length stands for', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 1e5, noNaN: true }), (mm) => {
        for (const units of [metric, inches]) {
          expect(Math.abs(units.millimetresOf(units.lengthOf(mm)) / mm - 1)).toBeLessThan(1e-12);
          expect(Math.abs(units.squareMetresOf(units.areaOf(mm)) / mm - 1)).toBeLessThan(1e-12);
        }
      }),
    );
  });
});

describe('shown shares', () => {
  it('writes a decimal only below ten percent', () => {
    expect(formatShare(0.1221)).toBe('12 %');
    expect(formatShare(0.0718)).toBe('7.2 %');
    expect(formatShare(0.0996)).toBe('10 %');
  });

  it('does not call a trace nothing', () => {
    expect(formatShare(1e-6)).toBe('<0.1 %');
    expect(formatShare(0)).toBe('0 %');
    expect(formatShareInterval({ low: 1e-6, high: 0.24 })).toBe('<0.1 to 24 %');
  });
});
