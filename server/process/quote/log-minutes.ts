/** Minutes for a square metre as a log-normal guess: mean and deviation of the natural logarithm of the minutes. */
export interface LogMinutes {
  readonly mean: number;
  readonly deviation: number;
}

/** No zone is known more closely than this, whatever was measured. Keeps divisions finite. */
const LEAST_DEVIATION = 0.02;

export function logMoments(minutes: readonly number[]): LogMinutes {
  const logs = minutes.map((value) => Math.log(Math.max(value, Number.MIN_VALUE)));
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const variance = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / logs.length;
  return { mean, deviation: Math.max(LEAST_DEVIATION, Math.sqrt(variance)) };
}
