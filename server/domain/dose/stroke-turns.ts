import type { DoseRequest } from '../dose.ts';
import { strokesPerSecond } from '../kinematics/strokes-per-second.ts';
import { speedAlong } from './speed-along.ts';

/** Most turns of one pass: beyond this the picture is refused as too fine. */
export const MOST_TURNS = 20_000;
/** Part of a pitch by which each pass starts further on: spreads any number of passes evenly. Source: the golden section. */
const GOLDEN_PART = 0.618034;

/**
 * Places along the walk (mm) at which the mirror turns, from before the picture to past its end: stroke `i` of a pass runs
 * from turn `i` to turn `i + 1`. The hand's speed is taken as constant within a stroke.
 */
export function strokeTurns(request: DoseRequest, pass: number, { from, to }: { from: number; to: number }): number[] {
  const strokeS = 1 / strokesPerSecond(request.settings, request.machine);
  const start = from - speedAlong(request, from) * strokeS * ((pass * GOLDEN_PART) % 1);
  const turns = [start];
  for (let along = start; along < to && turns.length <= MOST_TURNS;) {
    along += speedAlong(request, along) * strokeS;
    turns.push(along);
  }
  return turns;
}
