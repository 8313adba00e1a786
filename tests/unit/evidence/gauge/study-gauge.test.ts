import { describe, expect, it } from 'vitest';
import { gaugeResultSchema } from '../../../../server/domain/index.ts';
import type { GaugeResult } from '../../../../server/domain/index.ts';
import { chanceOfLargerF } from '../../../../server/evidence/gauge/f-distribution.ts';
import { studyGauge } from '../../../../server/evidence/gauge/study-gauge.ts';

/**
 * Worked example of AIAG, Measurement Systems Analysis, 4th ed. (2010), gauge repeatability and reproducibility study: ten
 * parts, three appraisers, three trials. Data and results from memory; sums of squares that fit to all printed digits
 * confirm the data.
 */
const TRIALS: Readonly<Record<string, readonly (readonly number[])[]>> = {
  A: [
    [0.29, -0.56, 1.34, 0.47, -0.8, 0.02, 0.59, -0.31, 2.26, -1.36],
    [0.41, -0.68, 1.17, 0.5, -0.92, -0.11, 0.75, -0.2, 1.99, -1.25],
    [0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31],
  ],
  B: [
    [0.08, -0.47, 1.19, 0.01, -0.56, -0.2, 0.47, -0.63, 1.8, -1.68],
    [0.25, -1.22, 0.94, 1.03, -1.2, 0.22, 0.55, 0.08, 2.12, -1.62],
    [0.07, -0.68, 1.34, 0.2, -1.28, 0.06, 0.83, -0.34, 2.19, -1.5],
  ],
  C: [
    [0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49],
    [-0.11, -1.13, 1.09, 0.2, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77],
    [-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16],
  ],
};

interface Reading {
  readonly operator: string;
  readonly zone: string;
  readonly value: number;
}

const READINGS: readonly Reading[] = Object.entries(TRIALS).flatMap(([operator, trials]) =>
  trials.flatMap((trial) => trial.map((value, part) => ({ operator, zone: `part ${part + 1}`, value }))),
);

const studyOf = (measurements: readonly Reading[], toleranceWidth: number | null = null): unknown => ({
  schema: 'bareplate/gauge-study@1',
  quantity: 'deviation',
  toleranceWidth,
  measurements,
});

function judged(measurements: readonly Reading[], toleranceWidth: number | null = null): GaugeResult {
  const result = studyGauge(studyOf(measurements, toleranceWidth));
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return gaugeResultSchema.parse(result.value);
}

describe('the gauge study of the AIAG manual', () => {
  const result = judged(READINGS);

  it.each([
    ['operators', 2, 3.1673, 1.58363],
    ['zones', 9, 88.3619, 9.81799],
    ['interaction', 18, 0.359, 0.01994],
    ['repeatability', 60, 2.7589, 0.04598],
  ] as const)('has the printed row of the analysis of variance for %s', (row, degrees, sum, mean) => {
    const found = result.variance[row];
    expect(found.degreesOfFreedom).toBe(degrees);
    expect(Number(found.sumOfSquares.toFixed(4))).toBe(sum);
    expect(Number(found.meanSquare.toFixed(5))).toBe(mean);
  });

  it('has the printed total of 94.6471 with 89 degrees of freedom', () => {
    expect(result.variance.total.degreesOfFreedom).toBe(89);
    expect(Number(result.variance.total.sumOfSquares.toFixed(4))).toBe(94.6471);
  });

  it('drops the interaction, whose F is 0.434', () => {
    expect(Number(result.variance.interaction.f?.toFixed(3))).toBe(0.434);
    expect(result.isInteractionPooled).toBe(true);
    expect(result.spread.interaction.standardDeviation).toBe(0);
  });

  it.each([
    ['repeatability', 0.199933, 18.4],
    ['operators', 0.226838, 20.9],
    ['gauge', 0.302373, 27.9],
    ['zones', 1.042327, 96],
  ] as const)('has the printed standard deviation and per cent of the total for %s', (part, deviation, percent) => {
    expect(result.spread[part].standardDeviation).toBeCloseTo(deviation, 5);
    expect(Number((100 * result.spread[part].partOfTotal).toFixed(1))).toBe(percent);
  });

  it('tells four categories apart and is usable for some purposes only (27.9 %, under five categories)', () => {
    expect(result.distinctCategories).toBe(4);
    expect(result.verdict).toBe('usable for some purposes');
  });
});

describe('any gauge study', () => {
  it('does not depend on the order of the measurements or on a shift, and scales with the unit', () => {
    const base = judged(READINGS);
    const turned = judged([...READINGS].reverse().map((reading) => ({ ...reading, value: reading.value + 100 })));
    expect(turned.spread.gauge.standardDeviation).toBeCloseTo(base.spread.gauge.standardDeviation, 9);
    const scaled = judged(READINGS.map((reading) => ({ ...reading, value: 1000 * reading.value })));
    expect(scaled.spread.gauge.standardDeviation).toBeCloseTo(1000 * base.spread.gauge.standardDeviation, 6);
    expect(scaled.distinctCategories).toBe(base.distinctCategories);
  });

  it('states the gauge as a part of a tolerance: six deviations over its width', () => {
    const result = judged(READINGS, 4);
    expect(result.spread.gauge.partOfTolerance).toBeCloseTo((6 * 0.302373) / 4, 4);
  });

  it('keeps an interaction that is there', () => {
    const crossed = READINGS.map((reading) => ({
      ...reading,
      value: reading.value + (reading.operator === 'B' && reading.zone === 'part 3' ? 3 : 0),
    }));
    const result = judged(crossed);
    expect(result.isInteractionPooled).toBe(false);
    expect(result.spread.interaction.standardDeviation).toBeGreaterThan(0.3);
    // The parts add up in squares.
    const { repeatability, reproducibility, gauge, zones, total } = result.spread;
    expect(Math.hypot(repeatability.standardDeviation, reproducibility.standardDeviation)).toBeCloseTo(
      gauge.standardDeviation,
      12,
    );
    expect(Math.hypot(gauge.standardDeviation, zones.standardDeviation)).toBeCloseTo(total.standardDeviation, 12);
  });

  it('says nothing of a gauge that shows no spread', () => {
    const still = READINGS.map((reading) => ({ ...reading, value: Number(reading.zone.slice(5)) }));
    expect(judged(still)).toMatchObject({ distinctCategories: null, verdict: null });
  });

  it.each([
    ['a missing repeat', READINGS.slice(1), 'not balanced'],
    ['one operator', READINGS.filter(({ operator }) => operator === 'A'), 'two operators'],
    ['one zone', READINGS.filter(({ zone }) => zone === 'part 1'), 'two zones'],
    ['no repeats', READINGS.filter((_reading, at) => at % 30 < 10), 'at least twice'],
  ])('is refused for %s', (_what, measurements, words) => {
    const result = studyGauge(studyOf(measurements));
    expect(result).toMatchObject({ ok: false, fault: { code: 'gauge-study-malformed' } });
    expect(JSON.stringify(result)).toContain(words);
  });

  it.each([[null], [{}], [studyOf([{ operator: 'A', zone: '1', value: Number.NaN }])]])(
    'is refused for nonsense: %j',
    (json) => {
      expect(studyGauge(json)).toMatchObject({ ok: false, fault: { code: 'gauge-study-malformed' } });
    },
  );
});

describe('the F distribution', () => {
  /** Upper 5 % and 1 % points of printed F tables (any statistics handbook; from memory). */
  it.each([
    [4.1, 2, 10, 0.05],
    [2.71, 5, 20, 0.05],
    [4.96, 1, 10, 0.05],
    [7.56, 2, 10, 0.01],
  ])('exceeds %d with %d and %d degrees of freedom with the tabled chance %d', (f, upper, lower, chance) => {
    expect(chanceOfLargerF(f, upper, lower)).toBeCloseTo(chance, 3);
  });

  it('is the closed form for two upper degrees of freedom: (1 + 2 f / n) to the power of -n / 2', () => {
    for (const [f, n] of [
      [0.3, 7],
      [2, 18],
      [40, 78],
    ]) {
      const exact = (1 + (2 * f) / n) ** (-n / 2);
      expect(chanceOfLargerF(f, 2, n) / exact).toBeCloseTo(1, 10);
    }
  });

  it('turns over: the chance below f is the chance above 1 / f with the degrees swapped', () => {
    for (const f of [0.2, 1, 3.7]) expect(chanceOfLargerF(f, 5, 9)).toBeCloseTo(1 - chanceOfLargerF(1 / f, 9, 5), 12);
    expect(chanceOfLargerF(0, 3, 4)).toBe(1);
  });
});
