import { describe, expect, it } from 'vitest';
import { historySchema } from '../../../../server/domain/index.ts';
import type { Advice, History } from '../../../../server/domain/index.ts';
import { zoneTarget } from '../../../../server/process/advice/aim.ts';
import { adviseNextRound } from '../../../../server/process/advice/advise-next-round.ts';
import { settingsOf } from '../../../support/line-machine.ts';
import { zoneHistory } from '../../../support/treated-zone.ts';

const settings = settingsOf({ scanWidthMm: 100, scanFrequencyHz: 50, travelSpeedMmPerS: 20 });
const reading = (share: number, half: number) => ({ residueFraction: share, low: share - half, high: share + half });

/** A zone of heavy rust with a target of 5 %, after one round. */
function history(whole: ReturnType<typeof reading>, worst: ReturnType<typeof reading> | null): History {
  const plain = zoneHistory({ surface: 'heavily pitted rust', rounds: [{ settings, before: 0.9, after: 0.5 }] });
  const after = worst === null ? whole : { ...whole, worstSquare: worst };
  return historySchema.parse({ ...plain, rounds: [{ ...plain.rounds[0], after }] });
}

function advise(whole: ReturnType<typeof reading>, worst: ReturnType<typeof reading> | null): Advice {
  const advice = adviseNextRound(history(whole, worst));
  if (!advice.ok) throw new Error(advice.fault.code);
  return advice.value;
}

// A unit area is judged by itself. Source: SSPC-SP 10/NACE No. 2 and SP 14/NACE No. 8 give their shares "of each unit area".
describe('advice for a zone whose worst square is known', () => {
  it('asks for another round where the square is beyond the target and the whole zone within it', () => {
    expect(advise(reading(0.03, 0.01), null).verdict).toBe('meets target');
    const advice = advise(reading(0.03, 0.01), reading(0.12, 0.03));
    expect(advice.verdict).toBe('another round');
    expect(advice.suggestions.length).toBeGreaterThan(0);
    expect(advice.because).toContain('worst 76 mm square');
    expect(advice.suggestions[0].why).toContain('1.3 % or less of the whole zone');
  });

  it('leaves open what the square’s interval leaves open', () => {
    expect(advise(reading(0.02, 0.01), reading(0.04, 0.02)).verdict).toBe('cannot tell');
  });

  it('is done when the whole interval of the square lies within the target', () => {
    expect(advise(reading(0.01, 0.005), reading(0.03, 0.015)).verdict).toBe('meets target');
  });

  it('predicts for the whole zone, and grows less sure of the next round', () => {
    const chanceOf = ({ suggestions: [first] }: Advice): number => first.probabilityMeetsTarget;
    const [whole, square] = [advise(reading(0.3, 0.02), null), advise(reading(0.3, 0.02), reading(0.6, 0.03))];
    expect(chanceOf(square)).toBeLessThan(chanceOf(whole));
    expect(square.suggestions[0].predicted.value).toBeLessThan(0.3);
  });

  it('says where what is left lies close together', () => {
    const hint = 'close together';
    expect(advise(reading(0.01, 0.005), reading(0.12, 0.03)).because).toContain(hint);
    expect(advise(reading(0.06, 0.01), reading(0.12, 0.03)).because).not.toContain(hint);
  });
});

describe('the target of the whole zone', () => {
  it.each([
    [null, 0.05],
    [0.12, 0.0125],
    [0.03, 0.05],
    [0.02, 0.05],
  ])('with a worst square of %s is %f', (worst, target) => {
    const given = history(reading(0.03, 0.01), worst === null ? null : reading(worst, 0.01));
    expect(zoneTarget(given)).toBeCloseTo(target, 12);
  });
});
