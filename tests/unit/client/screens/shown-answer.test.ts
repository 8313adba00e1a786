import { describe, expect, it } from 'vitest';
import type { ZoneAssessment } from '@domain/api/assessments.ts';
import { correctedDecision, shownAnswer } from '../../../../client/screens/answer/answer-of.ts';

type Asked = Parameters<typeof shownAnswer>[0];

const asked = (verdict: Asked['verdict'], decision: Asked['decision'], anew: Asked['decision']): Asked => ({
  verdict,
  decision,
  targetGrade: 'Sa 2 1/2',
  corrected: {
    before: null,
    after:
      anew === null
        ? null
        : ({
            decided: {
              grades: [
                { standard: 'ISO 8501-1', grade: 'Sa 3', decision: 'cannot tell', because: 'as painted' },
                { standard: 'ISO 8501-1', grade: 'Sa 2 1/2', decision: anew, because: 'as painted' },
              ],
            },
          } as unknown as ZoneAssessment['corrected']['after']),
  },
});

describe('the answer that is shown', () => {
  it('is what the advice says where nobody corrected the map, or where the correction decides alike', () => {
    expect(shownAnswer(asked('change method', 'does not meet', null))).toBe('another method');
    expect(shownAnswer(asked('change method', 'does not meet', 'does not meet'))).toBe('another method');
  });

  it('is never done where a person painted what does not meet the target', () => {
    expect(shownAnswer(asked('meets target', 'meets', 'does not meet'))).toBe('another round');
    expect(shownAnswer(asked('meets target', 'meets', 'cannot tell'))).toBe('cannot tell');
  });

  it('is done where a person painted over what was no residue', () => {
    expect(shownAnswer(asked('another round', 'does not meet', 'meets'))).toBe('done');
  });

  it('takes the target grade alone', () => {
    expect(correctedDecision(asked(null, null, 'meets'))).toBe('meets');
    expect(correctedDecision({ ...asked(null, null, 'meets'), targetGrade: null })).toBeNull();
  });
});
