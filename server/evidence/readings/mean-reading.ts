export interface MeanReading {
  readonly mean: number;
  /** Sample standard deviation; null for a single reading. */
  readonly standardDeviation: number | null;
  readonly least: number;
  readonly most: number;
  readonly count: number;
}

/** Summary of repeated readings, in their unit. @throws RangeError for none */
export function meanReading(readings: readonly number[]): MeanReading {
  const count = readings.length;
  if (count === 0) throw new RangeError('Expected at least one reading but received none');
  const mean = readings.reduce((sum, reading) => sum + reading, 0) / count;
  const squares = readings.reduce((sum, reading) => sum + (reading - mean) ** 2, 0);
  return {
    mean,
    standardDeviation: count === 1 ? null : Math.sqrt(squares / (count - 1)),
    least: Math.min(...readings),
    most: Math.max(...readings),
    count,
  };
}
