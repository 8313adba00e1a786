import { describe, expect, it } from 'vitest';
import { type Quote, quoteRequestSchema, quoteSchema } from '../../../../server/domain/index.ts';
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

  it('narrows with the shop’s earlier zones of the kind', () => {
    const round = {
      settings: settingsOf({ powerW: 2000, scanWidthMm: 300, scanFrequencyHz: 20, travelSpeedMmPerS: 10 }),
      before: { residueFraction: 0.9 },
      after: { residueFraction: 0.2, low: 0.18, high: 0.22 },
    };
    const learned = quoteOf({ earlierZones: [1, 2, 3, 4].map(() => ({ surface: 'pitted', rounds: [round] })) });
    expect(learned.hours.high / learned.hours.low).toBeLessThan(quote.hours.high / quote.hours.low);
    expect(learned.because).toContain('4 earlier zones');
  });
});
