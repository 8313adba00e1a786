import { lineShape } from './line-shape.ts';
import { LINE_LOOKS, OPPOSITE_LOOK, readStripDepths } from './strip-depths.ts';
import { LEAST_STRIPS } from './through-lines.ts';
import type { LineStrips, ThroughLine } from './through-lines.ts';

/** A through line beside what else its own direction shows. */
export interface LineWitness {
  /** Depth over the strips without the least and the most of them, dE00. */
  readonly depth: number;
  /** Depth that three strips of four exceed. */
  readonly lowerDepth: number;
  /** Largest depth that lines of the opposite look and the same width reach in the same direction: none is a film's. */
  readonly counter: number;
  /** Share of the strips along the zone's diagonal in which it was looked at. */
  readonly coverage: number;
}

/** Share of the strips that is left out at either end. */
const TRIMMED = 0.15;

export function witnessLine(strips: LineStrips, line: ThroughLine): LineWitness {
  const p = strips.project(line.frame);
  const shape = lineShape(line.widthMm, p.binMm);
  const place = Math.round((line.placeMm - p.startMm) / p.binMm);
  const ownLook = LINE_LOOKS.indexOf(line.look);
  const counterLook = LINE_LOOKS.indexOf(OPPOSITE_LOOK[line.look]);
  const sortedAt = (bin: number, look: number): Float64Array => {
    const count = readStripDepths(p, bin, shape, strips.depths);
    return strips.depths.nearer[look].slice(0, count).sort();
  };
  let counter = 0;
  for (let bin = shape.far; bin + shape.far <= p.bins; bin++) {
    const depths = sortedAt(bin, counterLook);
    if (depths.length >= LEAST_STRIPS) counter = Math.max(counter, trimmedMean(depths));
  }
  const own = sortedAt(place, ownLook);
  const coverage = line.strips / p.strips;
  return { depth: trimmedMean(own), lowerDepth: own[Math.floor(own.length / 4)], counter, coverage };
}

function trimmedMean(sorted: Float64Array): number {
  const out = Math.floor(TRIMMED * sorted.length);
  const kept = sorted.subarray(out, sorted.length - out);
  return kept.reduce((sum, depth) => sum + depth, 0) / kept.length;
}

/**
 * Chosen on zones of rendered photos: of 238 without streaks 2 come above 0, of 132 with bands or seams 67. Grinding and
 * brushing have light lines as deep as the dark ones; patches in a row miss some strips and are uneven.
 */
const EVIDENCE = {
  offset: -9.25,
  score: 1,
  ratio: 0.8,
  evenness: 2,
  depth: 0.5,
  coverage: 2,
  wideness: -0.7,
} as const;
/** Wider lines are the more often clouds and shadows, mm. */
const WIDE_MM = 13;
/** Beyond these a line is as steady, and as alone in its direction, as can be told. */
const MOST = { strips: 20, ratio: 12, depth: 6 } as const;
const LEAST_DEPTH = { own: 0.2, counter: 0.06 } as const;
/** A line that shows in less than its usual unrest is none. */
const LEAST_CONTINUITY = 1;
/** Grooves of a tool: the deepest of their dark lines goes no further beyond the deepest of the light ones. */
const LEAST_RATIO = 2.5;
/** Dark lines this thin are joints and scratches, mm; films so thin show by their colour. */
const LEAST_DARK_MM = 2.4;

/** Evidence that a through line is a streak's, the more the surer; -Infinity where there is no line. */
export function throughEvidence(line: ThroughLine, witness: LineWitness): number {
  const { depth, lowerDepth, counter, coverage } = witness;
  if (!(depth > 0) || line.continuity < LEAST_CONTINUITY) return -Infinity;
  if (line.look === 'darker' && line.widthMm < LEAST_DARK_MM) return -Infinity;
  const ratio = depth / Math.max(counter, LEAST_DEPTH.counter);
  if (ratio < LEAST_RATIO) return -Infinity;
  return (
    EVIDENCE.offset +
    EVIDENCE.score * line.continuity * Math.sqrt(Math.min(line.strips, MOST.strips)) +
    EVIDENCE.ratio * Math.log(Math.min(ratio, MOST.ratio)) +
    EVIDENCE.evenness * Math.min(1, Math.max(0, lowerDepth / depth)) +
    EVIDENCE.depth * Math.log(Math.min(Math.max(depth, LEAST_DEPTH.own), MOST.depth)) +
    EVIDENCE.coverage * coverage +
    EVIDENCE.wideness * Math.max(0, Math.log(line.widthMm / WIDE_MM))
  );
}
