import { MAGNUS_RANGE_C } from './readings.ts';
import type { GradeDecision } from './grade.ts';
import type { Climate } from './readings.ts';
import { dewPointC } from './dew-point.ts';

/**
 * Steel is coated when it is at least this much warmer than the dew point.
 * Source: [ISO8502-4] and [ISO12944-7] as summarised in the trade; ISO 8502-4 itself is guidance and sets no single limit.
 */
export const DEW_POINT_MARGIN_C = 3;

export interface DewPointMargin {
  readonly dewPointC: number;
  /** Surface temperature less dew point. */
  readonly marginC: number;
  /** Half width of the margin with 95 % coverage, from the instruments' papers; null when they are not stated. */
  readonly marginUncertaintyC: number | null;
  readonly decision: GradeDecision;
}

/**
 * The 3 degree rule. With stated uncertainties the readings' errors are combined to first order, as independent, and a
 * margin too close to the limit to tell is called so. Source: [JCGM100], 5.1.2.
 */
export function dewPointMargin(climate: Climate): DewPointMargin {
  const dewPoint = dewPointC(climate.airTemperatureC, climate.relativeHumidity);
  const margin = climate.surfaceTemperatureC - dewPoint;
  const half = uncertaintyOf(climate);
  return { dewPointC: dewPoint, marginC: margin, marginUncertaintyC: half, decision: decide(margin, half ?? 0) };
}

function decide(margin: number, half: number): GradeDecision {
  if (margin - half >= DEW_POINT_MARGIN_C) return 'meets';
  return margin + half < DEW_POINT_MARGIN_C ? 'does not meet' : 'cannot tell';
}

function uncertaintyOf({ airTemperatureC: air, relativeHumidity: share, uncertainty }: Climate): number | null {
  if (uncertainty === null) return null;
  const airStep = 0.01;
  const least = Math.max(MAGNUS_RANGE_C.least, air - airStep);
  const most = Math.min(MAGNUS_RANGE_C.most, air + airStep);
  const byAir = (dewPointC(most, share) - dewPointC(least, share)) / (most - least);
  const [drier, damper] = [share * 0.999, Math.min(1, share * 1.001)];
  const byShare = (dewPointC(air, damper) - dewPointC(air, drier)) / (damper - drier);
  return Math.hypot(
    uncertainty.surfaceTemperatureC,
    byAir * uncertainty.airTemperatureC,
    byShare * uncertainty.relativeHumidity,
  );
}
