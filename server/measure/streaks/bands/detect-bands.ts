import type { Settings } from '../../../domain/index.ts';
import { bandCandidates } from './band-candidate.ts';
import type { BandCandidate, BandSearch } from './band-candidate.ts';
import { bandColours } from './band-colours.ts';
import type { BandColours } from './band-colours.ts';
import { bandEvidence, realRuns, twoSidedShare } from './band-evidence.ts';
import { classifyBands } from './classify-bands.ts';
import type { BandKind } from './classify-bands.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';
import type { StreakDoubt } from '../streak-finding.ts';
import { isWeld } from './weld-signs.ts';

interface FoundBands extends BandKind {
  readonly candidate: BandCandidate;
  readonly colours: BandColours;
  readonly evidence: number;
}

export interface BandVerdict {
  readonly bands: FoundBands | null;
  /** Why the most likely candidate is no streak; null when one is. */
  readonly doubt: StreakDoubt | null;
  readonly evidence: number | null;
}

/** Evidence from which bands are streaks. Chosen where 1 in 100 unstreaked test surfaces passes. */
const LEAST_EVIDENCE = 0.4;
const LEAST_CONTRAST = 1;
/** An edge has both levels but hardly a line: see `twoSidedShare`. */
const LEAST_TWO_SIDED = 0.55;
/** A step is neutral when its change in a* and b* is less than this share of the change in L*. */
const NEUTRAL_SHARE = 0.2;
/** Widths of a single neutral line that can be a seam, mm: thinner ones are joints, wider ones shadows. */
const SEAM_MM = { least: 2.4, most: 9 } as const;
/** A zone that was drawn too wide shows no more than this of what lies beyond the piece, mm. */
const MOST_RIM_MM = 9;
/** Rise of the probability of residue that shows a change of class. */
const CLASS_RISE = 0.15;

/**
 * Seams and bands: lines that run through the zone, few or uneven.
 * @param searches made one after the other, until one shows streaks
 */
export function detectBands(
  searches: readonly (() => BandSearch)[],
  surface: ReducedSurface,
  settings: Settings | null,
): BandVerdict {
  let verdict: BandVerdict = { bands: null, doubt: 'nothing-runs-through', evidence: null };
  for (const search of searches) {
    const next = judge(bandCandidates(search()), surface, settings);
    if (next.bands !== null) return next;
    if ((next.evidence ?? -Infinity) > (verdict.evidence ?? -Infinity)) verdict = next;
  }
  return verdict;
}

function judge(candidates: readonly BandCandidate[], surface: ReducedSurface, settings: Settings | null): BandVerdict {
  const weighed = candidates
    .map((candidate) => ({ candidate, colours: bandColours(candidate, surface) }))
    .flatMap(({ candidate, colours }) =>
      colours === null ? [] : [{ candidate, colours, evidence: bandEvidence(candidate, colours) }],
    )
    .filter(({ evidence }) => Number.isFinite(evidence))
    .sort((p, q) => q.evidence - p.evidence);
  const doubts = weighed.map((next) => doubtOf(next, surface));
  const first = doubts.indexOf(null);
  if (first === -1) {
    return { bands: null, doubt: doubts[0] ?? 'nothing-runs-through', evidence: weighed[0]?.evidence ?? null };
  }
  const { evidence, candidate, colours } = weighed[first];
  const bands = { candidate, colours, evidence, ...classifyBands(realRuns(candidate), settings) };
  return { bands, doubt: null, evidence };
}

function doubtOf(weighed: Omit<FoundBands, keyof BandKind>, surface: ReducedSurface): StreakDoubt | null {
  const { candidate, colours, evidence } = weighed;
  if (evidence < LEAST_EVIDENCE || colours.contrast < LEAST_CONTRAST) return 'not-clear-of-texture';
  if (twoSidedShare(candidate) < LEAST_TWO_SIDED) return 'one-sided-step';
  if (isAtRim(candidate)) return 'one-sided-step';
  if (isSingleNeutral(candidate, colours)) return 'single-neutral-line';
  return isWeld(candidate, colours, surface) ? 'looks-like-weld' : null;
}

/** All that is there is narrow and ends where the zone does: what lies beyond the piece, or its edge. */
const isAtRim = (candidate: BandCandidate): boolean =>
  realRuns(candidate).every((run) => run.isCut && run.endMm - run.startMm < MOST_RIM_MM);

function isSingleNeutral(candidate: BandCandidate, colours: BandColours): boolean {
  const runs = realRuns(candidate);
  const changesClass = colours.residueRise !== null && colours.residueRise > CLASS_RISE;
  if (runs.length > 1 || changesClass) return false;
  const { core, ground } = colours;
  const isNeutral = Math.hypot(core.a - ground.a, core.b - ground.b) < NEUTRAL_SHARE * Math.abs(core.L - ground.L);
  const width = runs.length === 0 ? 0 : runs[0].endMm - runs[0].startMm;
  return isNeutral && (width < SEAM_MM.least || width > SEAM_MM.most);
}
