import { describe, expect, it } from 'vitest';
import { fraction } from '../../../../server/domain/index.ts';
import { d610ContinuousGrade, d610Grade, nearestRiDegree } from '../../../../server/measure/residue/rust-degree.ts';

const percent = (value: number) => fraction(value / 100);

describe('equivalent rusted area by ASTM D610-08 (2012), table 1', () => {
  // Upper ends of the table's classes in percent, and something just beyond each.
  it.each([
    [0.01, 10, 9],
    [0.03, 9, 8],
    [0.1, 8, 7],
    [0.3, 7, 6],
    [1, 6, 5],
    [3, 5, 4],
    [10, 4, 3],
    [16, 3, 2],
    [33, 2, 1],
    [50, 1, 0],
  ])('reads %d %% as grade %i and a little more as %i', (rusted, grade, beyond) => {
    expect(d610Grade(percent(rusted))).toBe(grade);
    expect(d610Grade(percent(rusted * 1.001))).toBe(beyond);
  });

  it('reads nothing as 10 and everything as 0', () => {
    expect(d610Grade(percent(0))).toBe(10);
    expect(d610Grade(percent(100))).toBe(0);
  });

  it('never rises when more is rusted', () => {
    let last = 10;
    for (let share = 0; share <= 1; share += 0.0005) {
      const grade = d610Grade(fraction(share));
      expect(grade).toBeLessThanOrEqual(last);
      last = grade;
    }
  });
});

describe('the continuous line through the table of ASTM D610', () => {
  // 6 - 2 log10(percent), computed by hand from the class limits.
  it.each([
    [0.01, 10],
    [0.03, 9.05],
    [0.1, 8],
    [0.3, 7.05],
    [1, 6],
    [3, 5.05],
    [10, 4],
  ])('gives %d %% the grade %d', (rusted, grade) => {
    expect(d610ContinuousGrade(percent(rusted))).toBeCloseTo(grade, 2);
  });

  it('is absent above 10 %, where it would leave the table, and below 0.01 %', () => {
    for (const rusted of [0, 0.009, 10.01, 16, 50]) expect(d610ContinuousGrade(percent(rusted))).toBeNull();
  });

  it('gives the rusted share back when solved for it', () => {
    for (const rusted of [0.02, 0.5, 7]) {
      expect(10 ** ((6 - (d610ContinuousGrade(percent(rusted)) ?? NaN)) / 2)).toBeCloseTo(rusted, 9);
    }
  });
});

describe('nearest picture of ISO 4628-3', () => {
  // Picture values from memory: 0, 0.05, 0.5, 1, 8 and 40 to 50 %.
  it.each([
    [0, 0],
    [0.05, 1],
    [0.5, 2],
    [1, 3],
    [8, 4],
    [40, 5],
    [50, 5],
    [100, 5],
  ])('takes %d %% to the picture of Ri %i', (rusted, degree) => {
    expect(nearestRiDegree(percent(rusted))).toBe(degree);
  });

  it('changes over at the geometric mean of two pictures', () => {
    expect(nearestRiDegree(percent(0.99 * Math.sqrt(8)))).toBe(3);
    expect(nearestRiDegree(percent(1.01 * Math.sqrt(8)))).toBe(4);
  });
});
