import { bandCandidates } from './band-candidate.ts';
import type { BandCandidate, BandGround, BandSearch, BandsInFrame } from './band-candidate.ts';
import { bandColours } from './band-colours.ts';
import type { BandColours } from './band-colours.ts';
import { isDrawnTexture, realRuns, twoSidedShare } from './band-runs.ts';
import { bandSigns } from './band-signs.ts';
import type { BandSigns } from './band-signs.ts';
import { classifyBands } from './classify-bands.ts';
import type { BandKind } from './classify-bands.ts';
import type { SignalLook } from './explained-share.ts';
import { groundLineReader } from './ground-lines.ts';
import { likelyTurn } from './likely-turn.ts';
import { widthOf } from './profile-levels.ts';
import { directionBinMm } from './stripe-directions.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';
import type { StreakDoubt } from '../streak-finding.ts';
import { toldBands } from './told-bands.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import { weighBands } from './weigh-bands.ts';
import { isWeld } from './weld-signs.ts';

export interface FoundBands extends BandKind {
  readonly candidate: BandsInFrame;
  readonly colours: BandColours;
  readonly evidence: number;
}

/** A candidate with all that is told of it. */
interface SignedCandidate extends Pick<FoundBands, 'colours'> {
  readonly candidate: BandCandidate;
  /** The signal that directions are sought in. */
  readonly coarse: StreakSignal;
  readonly surface: ReducedSurface;
  readonly signs: BandSigns;
}

interface Weighed extends Omit<SignedCandidate, 'signs'> {
  readonly evidence: number;
}

export interface BandVerdict {
  readonly bands: FoundBands | null;
  /** Why the most likely candidate is no streak; null when one is. */
  readonly doubt: StreakDoubt | null;
  readonly evidence: number | null;
}

/**
 * Evidence from which bands are streaks, chosen together with that of waves: of 2314 zones that no fit had seen, 17 in 1000
 * rendered ones without streaks pass (and 18 of the other renderer's surfaces), and 93 in 100 with streaks of contrast 3 and more.
 */
const LEAST_EVIDENCE = 0.2;
/** As much more where nobody told lack of dwell: else 39 in 1000 pass there. */
const MORE_IF_NOT_TOLD = 0.4;
/**
 * Evidence from which the form of a joint or a shadow is none against it, and less of it where lack of dwell is told: of 9125 zones
 * that no fit had seen, that finds 1 in 80 streaks more, and lets in 1 in 1400; chosen on those zones. Nor is the form of a weld
 * where lack of dwell is told, which the segmenter has learnt not to see in welds.
 */
const SURE_EVIDENCE = { told: 0.6, notTold: 1 } as const;
const LEAST_CONTRAST = 1;
/** An edge has both levels but hardly a line: see `twoSidedShare`. */
const LEAST_TWO_SIDED = 0.55;
/** A step is neutral when its change in a* and b* is less than this share of the change in L*. */
const NEUTRAL_SHARE = 0.2;
/** Widths of a single neutral line that can be a seam, mm: thinner ones are joints, wider ones shadows. */
const SINGLE_MM = { least: 2.4, most: 12 } as const;
/** A zone that was drawn too wide shows no more than this of what lies beyond the piece, mm. */
const MOST_RIM_MM = 9;
/** Rise of the probability of residue that shows a change of class. */
const CLASS_RISE = 0.15;

/**
 * Seams and bands: lines that run through the zone, few or uneven.
 * @param scanWidthMm width of the laser's line, where it is known
 */
export function detectBands(
  searches: readonly BandSearch[],
  ground: BandGround,
  scanWidthMm: number | null,
): BandVerdict {
  const weighed = signedCandidates(searches, ground)
    .map((found) => ({ ...found, evidence: weighBands(found.signs) - (isDwellTold(found) ? 0 : MORE_IF_NOT_TOLD) }))
    .sort((p, q) => q.evidence - p.evidence);
  const own = weighed.map(doubtOf);
  const welds = weighed.filter((_, n) => own[n] === 'looks-like-weld');
  // A weld is one in every look at it.
  const doubts = weighed.map((next, n) =>
    own[n] === null && welds.some((weld) => isAlike(weld.candidate, next.candidate)) ? 'looks-like-weld' : own[n],
  );
  const first = doubts.indexOf(null);
  const sure = first === -1 ? surelyTold(searches) : weighed[first];
  if (sure === null) {
    return { bands: null, doubt: doubts[0] ?? 'nothing-runs-through', evidence: weighed[0]?.evidence ?? null };
  }
  const { evidence, candidate, colours } = sure;
  const kind = classifyBands(realRuns(candidate), colours.affectedShare, scanWidthMm);
  const turned = turnedAsLikely(candidate, weighed);
  return { bands: { candidate: turned, colours, evidence, ...kind }, doubt: null, evidence };
}

/** Looks that have a candidate within this of the one told say where it runs, too: sine of the angle. */
const NEAR_DIRECTION = 0.12;

/** Bands turned to run as all looks that see them show. */
function turnedAsLikely(bands: BandsInFrame, all: readonly Weighed[]): BandsInFrame {
  const near = new Map<StreakSignal, SignalLook>();
  for (const { candidate, coarse } of all) {
    if (near.has(coarse) || !isAlike(candidate, bands, NEAR_DIRECTION)) continue;
    const { extent, mix } = candidate;
    near.set(coarse, { signal: coarse, extent, mix: mix.mix, binMm: directionBinMm(coarse) });
  }
  const { frame } = bands.direction;
  const angle = frame.angle + likelyTurn([...near.values()], frame);
  return { ...bands, direction: { ...bands.direction, frame: { ...frame, angle } } };
}

/**
 * Lack of dwell that the network tells in bands is a streak where they explain so much of it and hold so many mm2. Of 863 rendered
 * zones without streaks none passes that is not taken for one anyway, of 40 with streaks of contrast 3 and more that are missed
 * otherwise 5 do: seams that cut a corner and bands at the rim. Chosen on those zones; of others, drawn later, none of 905 passes and
 * 3 of 25 do.
 */
const SURELY_TOLD = { explained: 0.6, mm2: 250 } as const;
/** Five true ones to none, as log odds. */
const EVIDENCE_IF_TOLD = 1.6;

function surelyTold(searches: readonly BandSearch[]): Omit<FoundBands, keyof BandKind> | null {
  const surface = searches.find(({ look }) => look === 'under-dwell')?.surface;
  const told = surface === undefined ? null : toldBands(surface);
  if (surface === undefined || told === null) return null;
  if (told.levels.explained < SURELY_TOLD.explained || told.toldMm2 < SURELY_TOLD.mm2) return null;
  const colours = bandColours(told, surface);
  if (colours === null || colours.contrast < LEAST_CONTRAST) return null;
  return { candidate: told, colours, evidence: EVIDENCE_IF_TOLD };
}

/** Looks that agree on a direction within this, sine of the angle. */
const SAME_DIRECTION = 0.07;

const isAlike = (p: BandsInFrame, q: BandsInFrame, within = SAME_DIRECTION): boolean =>
  Math.abs(Math.sin(p.direction.frame.angle - q.direction.frame.angle)) < within;

const isDwellTold = ({ colours }: Pick<SignedCandidate, 'colours'>): boolean => colours.underDwell !== null;

/** The share of a single class shows a part of what the others show; lack of dwell has signs of its own. */
const isWitness = ({ look }: BandSearch): boolean => look !== 'class' && look !== 'under-dwell';

/** All candidates of all looks, with what speaks for and against them. */
export function signedCandidates(searches: readonly BandSearch[], ground: BandGround): SignedCandidate[] {
  const looks = searches.map(bandCandidates);
  return looks.flatMap((candidates, n) => {
    const { surface, look, coarse } = searches[n];
    const first = candidates.at(0);
    if (first === undefined) return [];
    const readGround = groundLineReader(ground.signal, first.extent, first.strips.binMm);
    return candidates.flatMap((candidate) => {
      const colours = bandColours(candidate, surface);
      if (colours === null) return [];
      const agreeing = looks.filter(
        (others, m) => m !== n && isWitness(searches[m]) && others.some((other) => isAlike(candidate, other)),
      ).length;
      const signs = bandSigns(candidate, colours, {
        ground: readGround(candidate),
        agreeing,
        look,
        residueShare: ground.residueShare,
      });
      return signs === null ? [] : [{ candidate, colours, signs, surface, coarse }];
    });
  });
}

const doubtOf = (weighed: Weighed): StreakDoubt | null =>
  weighed.evidence < LEAST_EVIDENCE ? 'not-clear-of-texture' : doubtOfForm(weighed, weighed.evidence);

/** Why what was found is no streak; doubts of a joint's, a shadow's or a weld's form give way to sure evidence. */
export function doubtOfForm(found: Omit<Weighed, 'evidence'>, evidence = -Infinity): StreakDoubt | null {
  const { candidate, colours, surface } = found;
  if (colours.contrast < LEAST_CONTRAST || isDrawnTexture(candidate)) return 'not-clear-of-texture';
  if (isAtRim(candidate)) return 'one-sided-step';
  const isSure = evidence >= (isDwellTold(found) ? SURE_EVIDENCE.told : SURE_EVIDENCE.notTold);
  if (!isSure && twoSidedShare(candidate) < LEAST_TWO_SIDED) return 'one-sided-step';
  if (!isSure && isSingleNeutral(candidate, colours)) return 'single-neutral-line';
  if (isSure && isDwellTold(found)) return null;
  return isWeld(candidate, colours, surface) ? 'looks-like-weld' : null;
}

/** All that is there is narrow and ends where the zone does: what lies beyond the piece, or its edge. */
const isAtRim = (candidate: BandCandidate): boolean =>
  realRuns(candidate).every((run) => run.isCut && widthOf(run) < MOST_RIM_MM);

function isSingleNeutral(candidate: BandCandidate, colours: BandColours): boolean {
  const runs = realRuns(candidate);
  const changesClass = colours.residueRise !== null && colours.residueRise > CLASS_RISE;
  if (runs.length > 1 || changesClass) return false;
  const { core, ground } = colours;
  const isNeutral = Math.hypot(core.a - ground.a, core.b - ground.b) < NEUTRAL_SHARE * Math.abs(core.L - ground.L);
  const width = runs.length === 0 ? 0 : widthOf(runs[0]);
  return isNeutral && (width < SINGLE_MM.least || width > SINGLE_MM.most);
}
