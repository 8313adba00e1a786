import type { StreakSignal } from '../surface/streak-signal.ts';
import type { BandCandidate } from './band-candidate.ts';
import { countedLines } from './band-runs.ts';
import type { GroundLines } from './band-signs.ts';
import { lineDepths, stripSignal } from './find-lines.ts';
import { stripProjector } from './strip-profiles.ts';
import type { Extent } from './strip-profiles.ts';

/** Length of a strip, mm: short enough that gaps between patches show. */
const STRIP_MM = 8;
const LEAST_STRIPS = 3;
/** A line shows in a strip where it has this share of its mean depth. */
const SHOWN_SHARE = 0.35;

/**
 * Reads how a candidate's lines show on the ground.
 * @param ground signal of the ground between patches; the whole surface's where there are none
 */
export function groundLineReader(
  ground: StreakSignal,
  extent: Extent,
  binMm: number,
): (candidate: BandCandidate) => GroundLines {
  const strips = Math.max(LEAST_STRIPS, Math.round((2 * extent.reachMm) / STRIP_MM));
  const project = stripProjector(ground, extent, { strips, binMm });
  return (candidate) => {
    const signal = stripSignal(project(candidate.direction.frame), candidate.mix.mix);
    let [presence, depth, total] = [0, 0, 0];
    for (const line of countedLines(candidate)) {
      const depths = lineDepths(signal, line);
      total += line.depth;
      if (depths.length < LEAST_STRIPS) continue;
      const mean = depths.reduce((sum, d) => sum + d, 0) / depths.length;
      depth += line.depth * mean;
      if (mean > 0) presence += (line.depth * depths.filter((d) => d > SHOWN_SHARE * mean).length) / depths.length;
    }
    return total > 0 ? { presence: presence / total, depth: depth / total } : { presence: 0, depth: 0 };
  };
}
