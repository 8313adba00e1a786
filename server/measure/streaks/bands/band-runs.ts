import type { BandCandidate } from './band-candidate.ts';
import type { ProfileLine } from './find-lines.ts';
import { widthOf } from './profile-levels.ts';
import type { DarkRun } from './profile-levels.ts';

/** Runs narrower than this, mm, are the grain of the profile. */
const LEAST_RUN_MM = 1.2;
/** A line counts when its depth is at least this share of the step between the levels. */
const LINE_SHARE = 0.35;

export const realRuns = (candidate: Pick<BandCandidate, 'levels'>): DarkRun[] =>
  candidate.levels.runs.filter((run) => widthOf(run) >= LEAST_RUN_MM);

/** Lines that lie on a run of the dark level. */
export function countedLines(candidate: BandCandidate): ProfileLine[] {
  const runs = realRuns(candidate);
  return candidate.lines.filter(
    (line) =>
      line.depth >= LINE_SHARE * candidate.levels.contrast &&
      runs.some((run) => line.centreMm > run.startMm - 2 && line.centreMm < run.endMm + 2),
  );
}

/**
 * Lines of a grinder, a brush or a roll: a profile of very many levels. Two levels explain 0.64 of normal noise cut at its mean
 * and little more of such lines; a set of streaks that is this uneven has few runs.
 */
const DRAWN_TEXTURE = { explained: 0.74, runs: 12 } as const;

export const isDrawnTexture = ({ levels }: BandCandidate): boolean =>
  levels.explained < DRAWN_TEXTURE.explained && levels.runs.length >= DRAWN_TEXTURE.runs;

/** Depth of the deepest line against the darker of its flanks, over the step: small for the edge of a shadow, 1 for a line. */
export function twoSidedShare(candidate: BandCandidate): number {
  return Math.max(0, ...countedLines(candidate).map((line) => line.depth)) / candidate.levels.contrast;
}
