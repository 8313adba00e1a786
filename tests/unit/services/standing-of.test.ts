import { describe, expect, it } from 'vitest';
import type { AssessmentSummary } from '../../../server/domain/api/assessments.ts';
import { standingOf } from '../../../server/services/standing-of.ts';

const summary = (change: Partial<AssessmentSummary>): AssessmentSummary =>
  ({ verdict: null, decision: null, correctedDecision: null, ...change }) as AssessmentSummary;

describe('the standing of a zone', () => {
  it('without an assessment tells whether somebody began', () => {
    expect(standingOf(null, 0)).toBe('not started');
    expect(standingOf(null, 2)).toBe('in work');
  });

  it('is the verdict of the advice where there is one', () => {
    expect(standingOf(summary({ verdict: 'change method', decision: 'meets' }), 1)).toBe('change method');
  });

  it('is neither done nor open where the measured grade is not met', () => {
    expect(standingOf(summary({ verdict: 'meets target', decision: 'does not meet' }), 1)).toBe('another round');
    expect(standingOf(summary({ verdict: 'cannot tell', decision: 'does not meet' }), 1)).toBe('another round');
  });

  it('is the decision on the target grade where no advice was given', () => {
    expect(standingOf(summary({ decision: 'meets' }), 1)).toBe('meets target');
    expect(standingOf(summary({ decision: 'does not meet' }), 1)).toBe('another round');
    expect(standingOf(summary({ decision: 'cannot tell' }), 1)).toBe('in work');
  });

  it('is what a correction decides where it decides otherwise', () => {
    const measured = { verdict: 'meets target', decision: 'meets' } as const;
    expect(standingOf(summary({ ...measured, correctedDecision: 'meets' }), 1)).toBe('meets target');
    expect(standingOf(summary({ ...measured, correctedDecision: 'does not meet' }), 1)).toBe('another round');
    expect(standingOf(summary({ ...measured, correctedDecision: 'cannot tell' }), 1)).toBe('cannot tell');
    const left = { verdict: 'change method', decision: 'does not meet' } as const;
    expect(standingOf(summary({ ...left, correctedDecision: 'meets' }), 1)).toBe('meets target');
    expect(standingOf(summary({ ...left, correctedDecision: 'does not meet' }), 1)).toBe('change method');
  });
});
