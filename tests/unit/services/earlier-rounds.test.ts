import { describe, expect, it } from 'vitest';
import { fraction, measured } from '../../../server/domain/index.ts';
import { earlierRounds } from '../../../server/services/earlier-rounds.ts';
import type { DoneRound } from '../../../server/services/earlier-rounds.ts';
import { sampleAssessment } from '../../support/sample-assessment.ts';
import { TEASEL_SETTINGS } from '../../support/teasel-round.ts';

const done = (roundNumber: number, rust: number, change: Partial<DoneRound['basis']> = {}): DoneRound => ({
  roundNumber,
  result: { ...sampleAssessment(rust), before: null },
  basis: {
    settings: TEASEL_SETTINGS,
    machineId: null,
    cardId: null,
    surfaceKind: '',
    thicknessMm: null,
    scrapeTest: null,
    outlines: { before: null, after: null },
    ...change,
  },
});

describe('the earlier rounds of a zone', () => {
  it('start covered all over and hand on what each one left', () => {
    const rounds = earlierRounds([done(1, 0.5), done(2, 0.2), done(3, 0.1)], 3);
    expect(rounds).toMatchObject([
      { before: { residueFraction: 1 }, after: { residueFraction: 0.5, low: 0.48, high: 0.52 } },
      { before: { residueFraction: 0.5 }, after: { residueFraction: 0.2 } },
    ]);
  });

  it('leave out a round without settings, but not what it left', () => {
    const rounds = earlierRounds([done(1, 0.5, { settings: null }), done(2, 0.2)], 3);
    expect(rounds).toHaveLength(1);
    expect(rounds[0].before.residueFraction).toBe(0.5);
  });

  it('believe a before photo more than the round before', () => {
    const second = done(2, 0.2);
    const withBefore = { ...second, result: sampleAssessment(0.2) };
    expect(earlierRounds([done(1, 0.5), withBefore], 3)[1].before.residueFraction).toBe(0.9);
  });

  it('carry the scrape test and the measured speed where there is one', () => {
    const [round] = earlierRounds([done(1, 0.3, { scrapeTest: 'clean' })], 2);
    expect(round.scrapeTest).toBe('clean');
    expect(round.measuredTravelSpeedMmPerS).toBeUndefined();
    const streaky = done(1, 0.3);
    const result = {
      ...streaky.result,
      streaks: { ...streaky.result.streaks, travelSpeedMmPerS: measured(64, 60, 68) },
    };
    expect(earlierRounds([{ ...streaky, result }], 2)[0].measuredTravelSpeedMmPerS?.value).toBe(64);
  });

  it('carry the worst square, which a grade judges, with its interval where one fits', () => {
    const round = done(1, 0.3);
    const centreMm: [number, number] = [40, 40];
    const worstUnitArea = { sideMm: 76 as const, residueFraction: fraction(0.6), stainFraction: fraction(0), centreMm };
    const after = { ...round.result.after, worstUnitArea };
    const [carried] = earlierRounds([{ ...round, result: { ...round.result, after } }], 2);
    const { worstSquare } = carried.after;
    expect(worstSquare?.residueFraction).toBe(0.6);
    expect(worstSquare?.low).toBeLessThan(0.6);
    expect(worstSquare?.high).toBeGreaterThan(0.6);
    const none = { ...round.result.after, worstUnitArea: null };
    expect(
      earlierRounds([{ ...round, result: { ...round.result, after: none } }], 2)[0].after.worstSquare,
    ).toBeUndefined();
  });

  it('are none for the first round', () => {
    expect(earlierRounds([done(1, 0.5)], 1)).toEqual([]);
    expect(earlierRounds([], 5)).toEqual([]);
  });
});
