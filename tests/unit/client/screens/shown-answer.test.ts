import { describe, expect, it } from 'vitest';
import { shownAnswer } from '../../../../client/screens/answer/answer-of.ts';

type Asked = Parameters<typeof shownAnswer>[0];

const asked = (
  verdict: Asked['verdict'],
  decision: Asked['decision'],
  correctedDecision: Asked['correctedDecision'],
): Asked => ({ verdict, decision, correctedDecision });

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
});
