import { describe, expect, it } from 'vitest';
import { ADVICE_VERDICTS } from '../../../server/domain/advice.ts';
import { verdictBesideGrade } from '../../../server/domain/verdict-beside-grade.ts';

describe('the verdict beside the grade', () => {
  it('never calls done or open what does not meet the grade', () => {
    expect(verdictBesideGrade('meets target', 'does not meet')).toBe('another round');
    expect(verdictBesideGrade('cannot tell', 'does not meet')).toBe('another round');
    expect(verdictBesideGrade('change method', 'does not meet')).toBe('change method');
  });

  it.each([null, 'meets', 'cannot tell'] as const)('is as the advice says where the grade says %s', (decision) => {
    expect(ADVICE_VERDICTS.map((verdict) => verdictBesideGrade(verdict, decision))).toEqual([...ADVICE_VERDICTS]);
  });
});
