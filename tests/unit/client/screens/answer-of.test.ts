import { describe, expect, it } from 'vitest';
import { answerOf } from '../../../../client/screens/answer/answer-of.ts';
import { streakSentence } from '../../../../client/screens/answer/streak-sentence.ts';
import { shownUnits } from '../../../../client/units/shown-units.ts';
import { measured } from '../../../../server/domain/measured.ts';
import { settingsSchema } from '../../../../server/domain/settings.ts';
import type { Streaks } from '../../../../server/domain/streaks.ts';

describe('answerOf', () => {
  it('takes the advice before the bare grade', () => {
    expect(answerOf({ verdict: 'meets target', decision: 'cannot tell' })).toBe('done');
    expect(answerOf({ verdict: 'change method', decision: 'does not meet' })).toBe('another method');
  });

  it('does not call open or done what the grade table says is not met', () => {
    expect(answerOf({ verdict: 'cannot tell', decision: 'does not meet' })).toBe('another round');
    expect(answerOf({ verdict: 'meets target', decision: 'does not meet' })).toBe('another round');
  });

  it('falls back on the grade, then on the measured share alone', () => {
    expect(answerOf({ verdict: null, decision: 'cannot tell' })).toBe('cannot tell');
    expect(answerOf({ verdict: null, decision: 'does not meet' })).toBe('another round');
    expect(answerOf({ verdict: null, decision: 'meets' })).toBe('done');
    expect(answerOf({ verdict: null, decision: null })).toBe('measured');
  });
});

describe('streakSentence', () => {
  const streaks = {
    found: true,
    kind: 'line-pitch',
    pitchMm: measured(3.2, 3.1, 3.3),
    travelSpeedMmPerS: measured(64, 63, 65),
  } as unknown as Streaks;
  const intended = settingsSchema.parse({
    powerW: 1500,
    scanWidthMm: 100,
    scanFrequencyHz: 10,
    travelSpeedMmPerS: 50,
    passes: 1,
  });

  it('says spacing and speed in the units of the shop', () => {
    expect(streakSentence(streaks, intended, shownUnits('millimetres'))).toMatch(/3\.2 mm.*64 mm\/s; 50 mm\/s/);
    // 3.2 mm / 25.4 = 0.126 in; 64 / 25.4 = 2.52 in/s (NIST SP 811, B.8).
    expect(streakSentence(streaks, intended, shownUnits('inches'))).toMatch(/0\.126 in.*2\.52 in\/s; 1\.97 in\/s/);
  });

  it('asks after the settings where the speed is far from them', () => {
    const at = (value: number): string =>
      streakSentence(
        { ...streaks, travelSpeedMmPerS: measured(value, value, value) },
        intended,
        shownUnits('millimetres'),
      );
    expect(at(160)).toContain('were the settings noted as they stood?');
    expect(at(16)).toContain('were the settings noted as they stood?');
    expect(at(140)).not.toContain('noted');
  });

  it('says of seams how far the swaths overlap, where the width of the line is known', () => {
    const seams = { ...streaks, kind: 'swath-seam', pitchMm: measured(91, 88, 94) } as const;
    expect(streakSentence(seams, intended, shownUnits('millimetres'))).toMatch(
      /100 mm wide: swaths overlap by about 9.*Overlap them more\.$/,
    );
    expect(streakSentence(seams, null, shownUnits('millimetres'))).not.toContain('wide:');
  });

  it('leaves the speed out where it is not known', () => {
    const sentence = streakSentence({ ...streaks, travelSpeedMmPerS: null }, intended, shownUnits('millimetres'));
    expect(sentence).not.toMatch(/mm\/s/);
  });
});
