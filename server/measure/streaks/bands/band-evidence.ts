import type { BandCandidate } from './band-candidate.ts';
import type { BandColours } from './band-colours.ts';
import type { ProfileLine } from './find-lines.ts';
import type { DarkRun } from './profile-levels.ts';

/** Runs narrower than this, mm, are the grain of the profile. */
const LEAST_RUN_MM = 1.2;
/** A line counts when its depth is at least this share of the step between the levels. */
const LINE_SHARE = 0.35;

export const realRuns = (candidate: BandCandidate): DarkRun[] =>
  candidate.levels.runs.filter((run) => run.endMm - run.startMm >= LEAST_RUN_MM);

/** Lines that lie on a run of the dark level. */
function countedLines(candidate: BandCandidate): ProfileLine[] {
  const runs = realRuns(candidate);
  return candidate.lines.filter(
    (line) =>
      line.depth >= LINE_SHARE * candidate.levels.contrast &&
      runs.some((run) => line.centreMm > run.startMm - 2 && line.centreMm < run.endMm + 2),
  );
}

/**
 * Weights of a logistic regression on test surfaces and rendered scenes (530 directions of unstreaked ones, 200 true ones),
 * rounded. What speaks for streaks: the step stands far out of the ground's unrest, the lines are as deep from strip to strip
 * and show in all of them, the colours differ, the levels are flat and unbroken, the lines straight.
 */
const EVIDENCE = {
  offset: -15.2,
  contrast: 0.55,
  explained: 0.8,
  ratio: 4.1,
  presence: 2.5,
  steadiness: 1.4,
  fragments: -0.6,
  runs: -0.2,
  twoSided: 0.75,
  bend: -720,
} as const;

/** Least unrest of a ground, dE00: no photo is calmer. */
const LEAST_UNREST = 0.05;

/** Log odds that a candidate's bands are streaks; -Infinity when nothing dark runs through. */
export function bandEvidence(candidate: BandCandidate, colours: BandColours): number {
  const { levels, direction } = candidate;
  const lines = countedLines(candidate);
  if (lines.length === 0 || levels.contrast <= 0) return -Infinity;
  const depths = lines.reduce((sum, line) => sum + line.depth, 0);
  const presence = lines.reduce((sum, line) => sum + line.presence * line.depth, 0) / depths;
  const steadiness = Math.sqrt(lines.reduce((sum, line) => sum + line.steadiness ** 2, 0));
  const runs = realRuns(candidate).length;
  return (
    EVIDENCE.offset +
    EVIDENCE.contrast * Math.log(Math.max(colours.contrast, 0.3)) +
    EVIDENCE.explained * levels.explained +
    EVIDENCE.ratio * Math.log(levels.contrast / Math.max(levels.groundDeviation, LEAST_UNREST)) +
    EVIDENCE.presence * presence +
    EVIDENCE.steadiness * Math.log(Math.max(steadiness, 0.1)) +
    EVIDENCE.fragments * Math.log(1 + levels.runs.length - runs) +
    EVIDENCE.runs * Math.log(1 + runs) +
    EVIDENCE.twoSided * Math.min(twoSidedShare(candidate), 1.2) +
    EVIDENCE.bend * Math.abs(direction.frame.bendPerMm)
  );
}

/** Depth of the deepest line against the darker of its flanks, over the step: small for the edge of a shadow, 1 for a line. */
export function twoSidedShare(candidate: BandCandidate): number {
  return Math.max(0, ...countedLines(candidate).map((line) => line.depth)) / candidate.levels.contrast;
}
