import { describe, expect, it } from 'vitest';
import { residueBefore } from '../../../../server/process/belief/measured-residue.ts';
import { settingsOf } from '../../../support/line-machine.ts';
import { zoneHistory } from '../../../support/treated-zone.ts';

const settings = settingsOf({});
const roundsFrom = (secondBefore: number) =>
  zoneHistory({
    rounds: [
      { settings, before: 0.9, after: 0.3, half: 0.04 },
      { settings, before: secondBefore, after: 0.1, half: 0.02 },
    ],
  }).rounds;
const left = { share: 0.31, deviation: 0.015 };

describe('the residue before a round', () => {
  it('is the first photo alone for the first round', () => {
    expect(residueBefore(roundsFrom(0.3), 0, left).share).toBe(0.9);
  });

  it('does not count the photo after the round before a second time', () => {
    expect(residueBefore(roundsFrom(0.3), 1, left)).toEqual(left);
  });

  it('weighs a photo taken anew by the inverse of its variance', () => {
    // A photo without interval errs by 0.006 + 0.08 x 0.34 = 0.0332; hand-computed: gain 0.015^2 / (0.015^2 + 0.0332^2).
    const gain = 0.015 ** 2 / (0.015 ** 2 + 0.0332 ** 2);
    const before = residueBefore(roundsFrom(0.34), 1, left);
    expect(before.share).toBeCloseTo(0.31 + gain * 0.03, 9);
    expect(before.deviation).toBeCloseTo(0.015 * Math.sqrt(1 - gain), 9);
    expect(before.deviation).toBeLessThan(left.deviation);
  });
});
