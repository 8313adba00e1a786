import type { Point } from './plane-geometry.ts';

/** A turned rectangle must be smaller than the upright one by this factor to be preferred; the measure's own rule. */
const TURN_GAIN = 0.97;
const QUARTER_RADIANS = Math.PI / 2;

/**
 * Turn of the measuring grid in the card frame, radians: the smallest rectangle round the zone with a side along one of the
 * zone's edges, upright when that is about as good. The worst square lies along it.
 */
export function gridTurnRadians(zoneMm: readonly Point[] | null): number {
  if (zoneMm === null || zoneMm.length < 3) return 0;
  const upright = areaAt(zoneMm, 0);
  let [turn, least] = [0, upright];
  zoneMm.forEach(([x, y], index) => {
    const [nextX, nextY] = zoneMm[(index + 1) % zoneMm.length];
    const quarters = Math.atan2(nextY - y, nextX - x) / QUARTER_RADIANS;
    const angle = (quarters - Math.round(quarters)) * QUARTER_RADIANS;
    const area = areaAt(zoneMm, angle);
    if (area < TURN_GAIN * upright && area < least) [turn, least] = [angle, area];
  });
  return turn;
}

function areaAt(points: readonly Point[], angle: number): number {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const us = points.map(([x, y]) => c * x + s * y);
  const vs = points.map(([x, y]) => c * y - s * x);
  return (Math.max(...us) - Math.min(...us)) * (Math.max(...vs) - Math.min(...vs));
}
