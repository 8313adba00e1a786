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
export function countedLines(candidate: BandCandidate): ProfileLine[] {
  const runs = realRuns(candidate);
  return candidate.lines.filter(
    (line) =>
      line.depth >= LINE_SHARE * candidate.levels.contrast &&
      runs.some((run) => line.centreMm > run.startMm - 2 && line.centreMm < run.endMm + 2),
  );
}

/** How a candidate's lines show on the ground alone: a film of too little dwell is there too, a run of rust or patches in a row are not. */
export interface GroundLines {
  /** Share of short strips in which the lines show. */
  readonly presence: number;
  /** Mean depth, dE00. */
  readonly depth: number;
}

/** What speaks for a candidate beside its own profile. */
export interface BandWitness {
  readonly ground: GroundLines;
  /** Other looks at the surface (whole, ground, share of residue) that show lines in the same direction. */
  readonly agreeing: number;
}

/**
 * Weights of a logistic regression, rounded, on zones of rendered photos (147 with bands or seams, 182 without streaks) and on
 * test surfaces that another renderer made, with brushing, grinding, rolling, welds, shadows and joints (50 and 118). What speaks
 * for streaks: the step stands out of the ground's unrest, looks agree on the direction, the lines show throughout on the ground
 * between patches, strips agree on the profile, colours differ, and the lines are straight.
 */
const EVIDENCE = {
  offset: -5.84,
  unrest: -3.7,
  agreeing: 1.34,
  groundPresence: 2.17,
  groundDepth: 0.24,
  presence: 1.39,
  commonShare: 0.7,
  contrast: 0.45,
  runs: 0.45,
  twoSided: 1.26,
  bend: -384,
} as const;

/** Least unrest of a ground, dE00: no photo is calmer. */
const LEAST_UNREST = 0.05;
/** A step this many times the ground's unrest is as clear as can be: lines of a grinder and a brush reach 3 to 5. */
const CLEAR_RATIO = 8;
/** More contrast than this, dE00, is no further sign: patches of rust have it too. */
const ENOUGH_CONTRAST = 8;
/** Bends beyond this count no further, per mm. */
const MOST_BEND = 1 / 200;
const MOST_TWO_SIDED = 1.2;

/** Log odds that a candidate's bands are streaks; -Infinity when nothing dark runs through. */
export function bandEvidence(candidate: BandCandidate, colours: BandColours, witness: BandWitness): number {
  const { levels, direction } = candidate;
  const lines = countedLines(candidate);
  if (levels.contrast <= 0 || lines.length === 0) return -Infinity;
  const { ground, agreeing } = witness;
  const depths = lines.reduce((sum, line) => sum + line.depth, 0);
  const presence = lines.reduce((sum, line) => sum + line.presence * line.depth, 0) / depths;
  const ratio = levels.contrast / Math.max(levels.groundDeviation, LEAST_UNREST);
  return (
    EVIDENCE.offset +
    EVIDENCE.unrest * Math.max(0, Math.log(CLEAR_RATIO / ratio)) +
    EVIDENCE.agreeing * agreeing +
    EVIDENCE.groundPresence * ground.presence +
    EVIDENCE.groundDepth * Math.log(Math.max(ground.depth, 0.1)) +
    EVIDENCE.presence * presence +
    EVIDENCE.commonShare * candidate.commonShare +
    EVIDENCE.contrast * Math.log(Math.min(Math.max(colours.contrast, 0.3), ENOUGH_CONTRAST)) +
    EVIDENCE.runs * Math.log(1 + realRuns(candidate).length) +
    EVIDENCE.twoSided * Math.min(twoSidedShare(candidate), MOST_TWO_SIDED) +
    EVIDENCE.bend * Math.min(Math.abs(direction.frame.bendPerMm), MOST_BEND)
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
