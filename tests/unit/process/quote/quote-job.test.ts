import { describe, expect, it } from 'vitest';
import {
  type EarlierZone,
  earlierZoneSchema,
  type Quote,
  quoteRequestSchema,
  quoteSchema,
} from '../../../../server/domain/index.ts';
import { quoteJob } from '../../../../server/process/quote/quote-job.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';

const TEASEL = {
  areaM2: 12,
  surface: 'heavy pitted rust',
  machine: LINE_MACHINE,
  target: { residueFractionMax: 0.05 },
  hourlyRate: 85,
  currency: 'EUR',
};

function quoteOf(change: object = {}): Quote {
  const quote = quoteJob(quoteRequestSchema.parse({ ...TEASEL, ...change }));
  if (!quote.ok) throw new Error(JSON.stringify(quote.fault));
  return quoteSchema.parse(quote.value);
}

describe('a quote', () => {
  const quote = quoteOf();

  it('gives hours and cost with a range that holds its middle, and says what it rests on', () => {
    expect(quote.hours.low).toBeLessThan(quote.hours.value);
    expect(quote.hours.value).toBeLessThan(quote.hours.high);
    expect(quote.cost.value).toBeCloseTo(85 * quote.hours.value, 6);
    // Minutes of beam time over the share of the time in which the beam is on.
    expect(quote.hours.value).toBeCloseTo((12 * quote.minutesPerSquareMetre.value) / 60 / 0.6, 6);
    expect(quote.because).toContain('common practice');
    expect(quote.assumptions.length).toBeGreaterThan(2);
  });

  it('grows with the area, and set-up hours come on top once', () => {
    expect(quoteOf({ areaM2: 24 }).hours.value).toBeCloseTo(2 * quote.hours.value, 6);
    expect(quoteOf({ setUpHours: 3 }).hours.value).toBeCloseTo(quote.hours.value + 3, 6);
    expect(quoteOf({ hourlyRate: 0 }).cost.high).toBe(0);
  });

  it('asks no less for a stricter target or a harder surface', () => {
    expect(quoteOf({ target: { residueFractionMax: 0.01 } }).hours.value).toBeGreaterThanOrEqual(quote.hours.value);
    expect(quoteOf({ surface: 'light rust' }).hours.value).toBeLessThan(quote.hours.value);
  });

  it('says that half of such jobs lie in the inner range, and why the outer one is wide', () => {
    const { hours, likely, rangeBecause, zones } = quote;
    expect(zones).toBe(0);
    expect(likely.hours.low).toBeGreaterThan(hours.low);
    expect(likely.hours.low).toBeLessThan(hours.value);
    expect(likely.hours.high).toBeGreaterThan(hours.value);
    expect(likely.hours.high).toBeLessThan(hours.high);
    expect(likely.cost.low).toBeCloseTo(85 * likely.hours.low, 6);
    expect(rangeBecause).toContain('no zone of this kind has been measured');
    const said = /factor of (\d+) from end to end.* about (\d+(?:\.\d)?)\./.exec(rangeBecause);
    expect(Number(said?.[1])).toBeCloseTo(hours.high / hours.low, 0);
    expect(Number(said?.[2])).toBeLessThan(Number(said?.[1]) / 3);
  });
});

/** A zone that one round brings to 3 %, at so many minutes of beam time for a square metre: 300 mm wide, 1000 / (60 x 0.3 v). */
const finished = (minutes: number): EarlierZone =>
  earlierZoneSchema.parse({
    surface: 'heavy pitted rust',
    rounds: [
      {
        settings: settingsOf({
          powerW: 2000,
          scanWidthMm: 300,
          scanFrequencyHz: 20,
          travelSpeedMmPerS: 1000 / (60 * 0.3 * minutes),
        }),
        before: { residueFraction: 0.9 },
        after: { residueFraction: 0.03, low: 0.02, high: 0.04 },
      },
    ],
  });
const withZones = (minutes: readonly number[], change: object = {}): Quote =>
  quoteOf({ earlierZones: minutes.map(finished), ...change });
const widthOf = ({ hours }: Quote): number => hours.high / hours.low;

describe('a quote of a shop that has treated such surfaces', () => {
  const common = quoteOf();

  it('goes to what zones of the kind took, and narrows with every one that goes alike', () => {
    const counts = [0, 1, 2, 4, 8].map((count) => withZones(Array.from({ length: count }, () => 10)));
    counts.slice(1).forEach((quote, index) => {
      expect(widthOf(quote)).toBeLessThan(widthOf(counts[index]));
    });
    const [, , , , eight] = counts;
    expect(widthOf(eight)).toBeLessThan(4);
    // Swaths of 300 mm overlap by 3 mm and deep strokes count a few percent more.
    expect(eight.minutesPerSquareMetre.value).toBeGreaterThan(10);
    expect(eight.minutesPerSquareMetre.value).toBeLessThan(12);
    expect(eight.zones).toBe(8);
    expect(eight.because).toContain('8 earlier zones of this kind');
  });

  it('stays wide where zones of the kind went differently, and says that this is why', () => {
    const alike = withZones([10, 10, 10, 10, 10, 10, 10, 10]);
    const apart = withZones([4, 25, 8, 12, 5, 20, 6, 15]);
    expect(widthOf(apart)).toBeGreaterThan(2 * widthOf(alike));
    expect(apart.rangeBecause).toContain('differ from one another');
    expect(withZones([10]).rangeBecause).toContain('one zone tells little');
  });

  it('does not hang on the order of the zones, nor on zones of another kind', () => {
    const there = withZones([6, 9, 14]);
    expect(withZones([14, 6, 9]).hours.high).toBeCloseTo(there.hours.high, 6);
    const scale = { ...finished(40), surface: 'mill scale' };
    expect(quoteOf({ earlierZones: [scale] }).hours).toEqual(common.hours);
  });

  it('asks more for a target that the zones did not reach yet', () => {
    expect(withZones([10, 10, 10], { target: { residueFractionMax: 0.01 } }).hours.value).toBeGreaterThan(
      withZones([10, 10, 10]).hours.value,
    );
  });

  it('takes the share with the beam on from zones that state their area and time', () => {
    // 2 m2 at 10 min and a little more of beam time in 60 min of work: about 0.35.
    const zones = [{ ...finished(10), areaM2: 2, workMinutes: 60 }];
    const learnt = quoteOf({ earlierZones: zones });
    const share = learnt.minutesPerSquareMetre.value / ((learnt.hours.value * 60) / 12);
    expect(share).toBeGreaterThan(0.33);
    expect(share).toBeLessThan(0.37);
    expect(learnt.assumptions.join(' ')).toContain('as on 1 earlier zone');
    const hasty = quoteOf({ earlierZones: [{ ...finished(10), areaM2: 2, workMinutes: 3 }] });
    expect(hasty.hours.value).toBeCloseTo((12 * hasty.minutesPerSquareMetre.value) / 60 / 0.6, 6);
    expect(hasty.assumptions.join(' ')).toContain('shorter than the beam alone takes');
    const stated = quoteOf({ earlierZones: zones, beamShare: 0.6 });
    expect(stated.hours.value).toBeCloseTo((12 * stated.minutesPerSquareMetre.value) / 60 / 0.6, 6);
  });

  it('leaves out zones that contradict themselves, and says so', () => {
    const [zone] = [finished(10)];
    const grown = {
      ...zone,
      rounds: [{ ...zone.rounds[0], before: { residueFraction: 0.01 }, after: { residueFraction: 0.9 } }],
    };
    const doubted = quoteOf({ earlierZones: [grown] });
    expect(doubted.hours).toEqual(common.hours);
    expect(doubted.assumptions.join(' ')).toContain('Not counted: 1 earlier zone');
  });
});
