import { commonShare } from './common-variance.ts';
import { colourMix } from './colour-mix.ts';
import type { ColourMix } from './colour-mix.ts';
import { findLines, stripSignal } from './find-lines.ts';
import type { ProfileLine, StripSignal } from './find-lines.ts';
import { profileLevels } from './profile-levels.ts';
import type { ProfileLevels } from './profile-levels.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import { REACHES, directionBinMm, reachBins, stripeDirections } from './stripe-directions.ts';
import type { StripeDirection } from './stripe-directions.ts';
import { straightenFrame } from './straighten-frame.ts';
import { extentOf, stripProjector } from './strip-profiles.ts';
import type { Extent } from './strip-profiles.ts';

/** Dark lines or bands that run through the zone in one direction. */
export interface BandCandidate {
  readonly direction: StripeDirection;
  readonly extent: Extent;
  readonly mix: ColourMix;
  readonly strips: StripSignal;
  readonly lines: readonly ProfileLine[];
  readonly levels: ProfileLevels;
  /** Share of the strips' steps that all of them have in common: 1 for what is drawn through, 0 for patches. */
  readonly commonShare: number;
}

/** What is needed of bands to tell their colours, their kind and where they run. */
export interface BandsInFrame extends Pick<BandCandidate, 'extent' | 'strips' | 'levels'> {
  readonly direction: Pick<StripeDirection, 'frame'>;
}

/** Ways to look at a surface, in the order in which the trees of the evidence number them. */
export const BAND_LOOKS = ['whole', 'ground', 'residue', 'class', 'under-dwell'] as const;
export type BandLook = (typeof BAND_LOOKS)[number];

/** A signal on two rasters: coarse for directions, fine for profiles. */
export interface BandSearch {
  readonly coarse: StreakSignal;
  readonly fine: StreakSignal;
  /** What the signals were made from: gives the colours. */
  readonly surface: ReducedSurface;
  readonly look: BandLook;
}

/** What a zone is like apart from its candidates. */
export interface BandGround {
  /** Signal of the ground between patches, or of the whole surface where there are none. */
  readonly signal: StreakSignal;
  /** Mean probability of residue; null where nobody told. */
  readonly residueShare: number | null;
}

/** Length of a strip along the stripes, mm: long enough to average grain, short enough to have several. */
const STRIP_MM = 22;
const LEAST_STRIPS = 5;
const FINE_BIN_MM = 0.6;
const DIRECTIONS_TRIED = 3;
const STRAIGHTENING_ROUNDS = 2;
/** A line seeds a level when it shows in this share of its strips. */
const SEED_PRESENCE = 0.6;

export function bandCandidates(search: Pick<BandSearch, 'coarse' | 'fine'>): BandCandidate[] {
  const { coarse, fine } = search;
  const extent = extentOf(coarse);
  const strips = Math.max(LEAST_STRIPS, Math.round((2 * extent.reachMm) / STRIP_MM));
  const directions = stripeDirections(coarse, { extent, strips, count: DIRECTIONS_TRIED });
  const projectRough = stripProjector(coarse, extent, { strips, binMm: directionBinMm(coarse) });
  const projectFine = stripProjector(fine, extent, { strips, binMm: Math.max(FINE_BIN_MM, fine.stepMm) });
  return directions.map((found) => {
    const rough = projectRough(found.frame);
    const mix = colourMix(rough, reachBins(found.reachMm, rough));
    let { frame } = found;
    for (let round = 0; round < STRAIGHTENING_ROUNDS; round++) {
      frame = straightenFrame(stripSignal(projectFine(frame), mix.mix), frame);
    }
    const profile = stripSignal(projectFine(frame), mix.mix);
    const lines = findLines(profile);
    const levels = profileLevels(
      profile,
      lines.filter((line) => line.presence >= SEED_PRESENCE),
    );
    const direction = { ...found, frame };
    return { direction, extent, mix, strips: profile, lines, levels, commonShare: largestCommonShare(profile) };
  });
}

/** The reach of the step filter that shows most in common counts. */
const largestCommonShare = (strips: StripSignal): number =>
  Math.max(...REACHES.map(({ mm }) => commonShare(strips, strips.value, reachBins(mm, strips))));
