import { describe, expect, it } from 'vitest';
import { predictZone } from '../../../../server/process/quote/predict-zone.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const USUAL = { mean: Math.log(15), deviation: 0.9 };
const zone = (minutes: number): { mean: number; deviation: number } => ({ mean: Math.log(minutes), deviation: 0.1 });
const logWidth = ({ quantile }: ReturnType<typeof predictZone>): number => Math.log(quantile(0.975) / quantile(0.025));

describe('the minutes of the next zone', () => {
  it('are about those of common practice while nothing was treated', () => {
    const nothing = predictZone(USUAL, []);
    expect(nothing.quantile(0.5)).toBeCloseTo(15, 3);
    // A normal logarithm of deviation 0.9 spans 2 x 1.96 x 0.9 = 3.53; the doubt about the spread adds a little.
    expect(logWidth(nothing)).toBeGreaterThan(3.5);
    expect(logWidth(nothing)).toBeLessThan(4);
  });

  it('go to the zones, by less than all the way', () => {
    const one = predictZone(USUAL, [zone(40)]).quantile(0.5);
    const many = predictZone(USUAL, [40, 38, 42, 41, 39, 40].map(zone)).quantile(0.5);
    expect(one).toBeGreaterThan(15);
    expect(many).toBeGreaterThan(one);
    expect(many).toBeLessThan(40);
    expect(many).toBeGreaterThan(35);
  });

  it('scale with everything', () => {
    const twice = predictZone({ ...USUAL, mean: USUAL.mean + Math.LN2 }, [zone(20), zone(60)]);
    const once = predictZone(USUAL, [zone(10), zone(30)]);
    for (const share of [0.025, 0.25, 0.5, 0.75, 0.975]) {
      expect(twice.quantile(share)).toBeCloseTo(2 * once.quantile(share), 6);
    }
  });

  it('cover what happens as often as they say, whatever zones of a shop differ by', () => {
    const random = seededRandom(5);
    const draw = (mean: number, deviation: number): number => mean + deviation * seededNormal(random);
    const shops = 600;
    // Common practice puts the spread between zones near 0.9 x sqrt(0.4) = 0.57; in a shop where zones differ by half as
    // much again some more of them surprise.
    for (const { between, least, leastHalf } of [
      { between: 0.2, least: 0.95, leastHalf: 0.5 },
      { between: 0.57, least: 0.93, leastHalf: 0.44 },
      { between: 0.9, least: 0.87, leastHalf: 0.38 },
    ]) {
      let [inside, half] = [0, 0];
      for (let shop = 0; shop < shops; shop++) {
        const mean = draw(USUAL.mean, 0.7);
        const treated = Array.from({ length: 4 }, () => ({ mean: draw(draw(mean, between), 0.1), deviation: 0.1 }));
        const { quantile } = predictZone(USUAL, treated);
        const next = Math.exp(draw(mean, between));
        if (next >= quantile(0.025) && next <= quantile(0.975)) inside++;
        if (next >= quantile(0.25) && next <= quantile(0.75)) half++;
      }
      // Nominal 95 and 50 %; zones that are more alike than the prior thinks are covered more often.
      expect(inside / shops, `between ${between}`).toBeGreaterThan(least);
      expect(half / shops, `between ${between}`).toBeGreaterThan(leastHalf);
      expect(half / shops, `between ${between}`).toBeLessThan(0.85);
    }
  });
});
