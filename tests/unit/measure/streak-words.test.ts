import { describe, expect, it } from 'vitest';
import { measured, settingsSchema } from '../../../server/domain/index.ts';
import type { Streaks } from '../../../server/domain/index.ts';
import { explainStreaks } from '../../../server/measure/streak-words.ts';
import type { StreakDoubt, StreakExplanation } from '../../../server/measure/streaks/streak-finding.ts';

const settings = settingsSchema.parse({
  powerW: 1500,
  scanWidthMm: 100,
  scanFrequencyHz: 10,
  travelSpeedMmPerS: 50,
  passes: 1,
});
const line = { settings, strokesPerCycle: 2 } as const;
const plain: StreakExplanation = {
  logOdds: null,
  doubt: null,
  pitchUnits: null,
  centreLines: [],
  expectedPitchMm: null,
  unresolved: null,
};
type Found = Omit<Streaks, 'because'>;
const found = (change: Partial<Streaks>): Found => ({
  found: true,
  kind: 'line-pitch',
  pitchMm: measured(2.5, 2.4, 2.6),
  directionDegrees: 90,
  contrastDeltaE00: 4.2,
  affectedFraction: 0.3 as Streaks['affectedFraction'],
  travelSpeedMmPerS: null,
  ...change,
});
const none: Found = {
  ...found({ found: false, kind: null, pitchMm: null, directionDegrees: null, contrastDeltaE00: 0 }),
};

describe('streaks in words', () => {
  it('say for line stripes the pitch, the speed it means, and what helps', () => {
    const words = explainStreaks(found({ travelSpeedMmPerS: measured(75, 72, 78) }), plain, line);
    expect(words).toContain('2.5 mm (2.4 to 2.6 mm)');
    expect(words).toContain('At 20 strokes per second that spacing is a travel of 75 mm/s');
    expect(words).toContain('faster than the 50 mm/s intended');
    expect(words).toContain('Slower travel or more strokes per second');
  });

  it('give a narrow interval of the pitch in hundredths', () => {
    const words = explainStreaks(found({ pitchMm: measured(3.163, 3.142, 3.188) }), plain, line);
    expect(words).toContain('3.16 mm (3.14 to 3.19 mm)');
  });

  it('say whether the hand or the dial is the cause', () => {
    const at = (speed: number): string =>
      explainStreaks(found({ travelSpeedMmPerS: measured(speed, speed - 2, speed + 2) }), plain, line);
    expect(at(52)).toContain('the settings themselves leave these lines');
    expect(at(30)).toContain('slower than the 50 mm/s intended');
    expect(at(30)).not.toContain('noted');
    expect(at(160)).toContain(
      'faster than the 50 mm/s intended. That is far off: were the settings noted as they stood?',
    );
  });

  it('say nothing of speed without settings', () => {
    expect(explainStreaks(found({}), plain, { settings: null, strokesPerCycle: 2 })).not.toContain('mm/s');
  });

  it('say for seams how far the swaths overlap, where that is known', () => {
    const at = (value: number, low: number, high: number): string =>
      explainStreaks(found({ kind: 'swath-seam', pitchMm: measured(value, low, high) }), plain, line);
    expect(at(91, 88, 94)).toContain('The line is 100 mm wide: swaths overlap by about 9 mm. Overlap');
    expect(at(107, 104, 110)).toContain('about 7 mm between swaths stay untouched');
    expect(at(101, 97, 105)).toContain('about as far apart as that');
    expect(at(200, 190, 210)).not.toContain('The line is');
    expect(explainStreaks(found({ kind: 'swath-seam', pitchMm: null }), plain, line)).not.toContain('The line is');
  });

  it('tell seams and bands with their own remedies', () => {
    expect(explainStreaks(found({ kind: 'swath-seam' }), plain, line)).toContain('Overlap the swaths more');
    const bands = explainStreaks(found({ kind: 'dwell-band', pitchMm: null }), plain, line);
    expect(bands).toContain('Keep the travel even');
    expect(bands).not.toContain('null');
  });

  it.each([
    'nothing-runs-through',
    'not-clear-of-texture',
    'one-sided-step',
    'single-neutral-line',
    'looks-like-weld',
  ] satisfies StreakDoubt[])('say why nothing is called a streak: %s', (doubt) => {
    const words = explainStreaks(none, { ...plain, doubt }, line);
    expect(words).toMatch(/^No streaks are reported: .{20,}\.$/);
  });

  it('say what the photo cannot show instead of guessing', () => {
    const words = explainStreaks(none, { ...plain, unresolved: 'pitch-finer-than-photo', expectedPitchMm: 0.25 }, line);
    expect(words).toContain('No streaks were found.');
    expect(words).toContain('can be neither seen nor ruled out');
  });
});
