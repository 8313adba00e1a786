import type { DoseRequest } from '../dose.ts';

/** Speed of the hand at a place along its walk, mm/s: linear between the points of the trace, constant beyond its ends. */
export function speedAlong({ speedTrace, settings }: DoseRequest, alongMm: number): number {
  if (speedTrace === undefined) return settings.travelSpeedMmPerS;
  const next = speedTrace.findIndex((point) => point.alongMm >= alongMm);
  if (next <= 0) return speedTrace[next === 0 ? 0 : speedTrace.length - 1].travelSpeedMmPerS;
  const [before, after] = [speedTrace[next - 1], speedTrace[next]];
  const part = (alongMm - before.alongMm) / (after.alongMm - before.alongMm);
  return before.travelSpeedMmPerS + part * (after.travelSpeedMmPerS - before.travelSpeedMmPerS);
}
