import { NOT_TOLD } from '../../evidence-trees.ts';
import { fitLattice } from './fit-lattice.ts';
import { widthSpread } from './classify-bands.ts';
import { countedLines, realRuns, twoSidedShare } from './band-runs.ts';
import { BAND_LOOKS } from './band-candidate.ts';
import type { BandCandidate, BandLook } from './band-candidate.ts';
import type { BandColours } from './band-colours.ts';
import { middleOf, widthOf } from './profile-levels.ts';

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
  /** Where it was seen. */
  readonly look: BandLook;
  /** Mean probability of residue in the zone; null where nobody told. */
  readonly residueShare: number | null;
}

/** What is told of a candidate, in the order in which the trees of its evidence number them. */
export const BAND_SIGNS = [
  'unrest',
  'standout',
  'agreeing',
  'explained',
  'groundDepth',
  'groundPresence',
  'commonShare',
  'affectedShare',
  'bend',
  'runs',
  'allRuns',
  'lines',
  'steadiness',
  'twoSided',
  'residueRise',
  'unevenness',
  'widthSpread',
  'step',
  'contrast',
  'presence',
  'isChroma',
  'look',
  'dwellRise',
  'dwellMean',
  'residueShare',
] as const;
export type BandSigns = { readonly [sign in (typeof BAND_SIGNS)[number]]: number };

/** Least unrest of a ground, dE00: no photo is calmer. */
const LEAST_UNREST = 0.05;
/** A step this many times the ground's unrest is as clear as can be: lines of a grinder and a brush reach 3 to 5. */
const CLEAR_RATIO = 8;
/** More contrast than this, dE00, is no further sign: patches of rust have it too. */
const ENOUGH_CONTRAST = 8;
/** Radius of a bend from which it counts no further, mm. */
const LEAST_RADIUS_MM = 200;
const MOST_TWO_SIDED = 1.2;
const MOST_UNEVEN = 0.3;
const MOST_WIDTH_SPREAD = 1.5;

/** Null when nothing dark runs through. */
export function bandSigns(candidate: BandCandidate, colours: BandColours, witness: BandWitness): BandSigns | null {
  const { levels, direction } = candidate;
  const lines = countedLines(candidate);
  if (levels.contrast <= 0 || lines.length === 0) return null;
  const { ground, agreeing, look, residueShare } = witness;
  const depths = lines.reduce((sum, line) => sum + line.depth, 0);
  const ratio = levels.contrast / Math.max(levels.groundDeviation, LEAST_UNREST);
  return {
    unrest: Math.max(0, Math.log(CLEAR_RATIO / ratio)),
    standout: Math.log(Math.max(direction.standout, 1)),
    agreeing,
    explained: levels.explained,
    groundDepth: Math.log(Math.max(ground.depth, 0.1)),
    groundPresence: ground.presence,
    commonShare: candidate.commonShare,
    affectedShare: colours.affectedShare,
    bend: Math.min(Math.abs(direction.frame.bendPerMm) * LEAST_RADIUS_MM, 1),
    allRuns: Math.log(1 + levels.runs.length),
    lines: Math.log(1 + lines.length),
    steadiness: Math.log(Math.max(0.5, ...lines.map((line) => line.steadiness))),
    twoSided: Math.min(twoSidedShare(candidate), MOST_TWO_SIDED),
    residueRise: colours.residueRise ?? 0,
    step: Math.log(Math.max(levels.contrast, 0.2)),
    contrast: Math.log(Math.min(Math.max(colours.contrast, 0.3), ENOUGH_CONTRAST)),
    presence: lines.reduce((sum, line) => sum + line.presence * line.depth, 0) / depths,
    isChroma: direction.channel === 'chroma' ? 1 : 0,
    look: BAND_LOOKS.indexOf(look),
    dwellRise: colours.underDwell?.rise ?? NOT_TOLD,
    dwellMean: colours.underDwell?.mean ?? NOT_TOLD,
    residueShare: residueShare ?? NOT_TOLD,
    ...signsOfRuns(candidate),
  };
}

function signsOfRuns(candidate: BandCandidate): Pick<BandSigns, 'runs' | 'unevenness' | 'widthSpread'> {
  const runs = realRuns(candidate);
  const whole = runs.filter((run) => !run.isCut);
  const counted = whole.length > 0 ? whole : runs;
  const uneven = whole.length < 2 ? MOST_UNEVEN : fitLattice(whole.map(middleOf)).unevenness;
  const spread = counted.length === 0 ? 0 : widthSpread(counted.map(widthOf));
  return {
    runs: Math.log(1 + runs.length),
    unevenness: Math.min(uneven, MOST_UNEVEN),
    widthSpread: Math.min(spread, MOST_WIDTH_SPREAD),
  };
}
