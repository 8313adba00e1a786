import { followWave } from './periodic-wave.ts';
import type { PeriodicWave } from './periodic-wave.ts';
import { hiddenStrokes } from './hidden-strokes.ts';
import { spectralPeaks, strongestNear } from './spectral-peaks.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import { stripeSpectrum } from './stripe-spectrum.ts';
import type { WaveVector } from './stripe-blocks.ts';
import type { StripeSpectrum } from './stripe-spectrum.ts';
import { angleBetween, areFamilies, meanOfFamilies } from './zigzag.ts';

/** A signal at one scale and the pitches that are sought in it. */
export interface ScaleSearch {
  readonly signal: StreakSignal;
  readonly shortestMm: number;
  readonly longestMm: number;
}

/** Peaks that are followed at each scale: true ones are the first or the second on the test bench. */
const PEAKS = 3;
/** Less prominent peaks are not followed: true ones have 2.7 and more on the test bench. */
const LEAST_PROMINENCE = 1.8;
/** Waves of one zone that are looked at closely. */
const MOST_WAVES = 3;
/** What is less than this is not looked at closely: evidence, size in dE00, periods. */
const LEAST = { evidence: -5, amplitude: 0.15, periods: 1.8 } as const;
/** Where the fit leaves the peak by more, a longer wave leaks into the cells and turns their phases. */
const MOST_DRIFT_BINS = 1.8;
/** Ripples of a weld reach no further along the stripes, mm: a bead is 3 to 15 mm wide (common practice), and its cells touch it. */
const SURE = { evidence: 1.5, driftBins: 1.5, amplitude: 0.25, along: 0.12, alongMm: 28, periods: 2.6 } as const;
/** Waves this much alike are one: sine of the angle between them, share of the pitch. */
const ALIKE = { angle: 0.1, pitch: 0.06 } as const;

export interface Scale extends ScaleSearch {
  readonly spectrum: StripeSpectrum;
}

/** Even stripes at their true pitch. */
export interface StripeWave extends PeriodicWave {
  /**
   * Wave vector of the strokes of a zigzag whose other family the spectrum alone shows: the stronger one hides it from what follows
   * waves cell by cell. Null where none is hidden.
   */
  readonly hiddenStrokes: WaveVector | null;
}

/** What was found on the way to even stripes. */
export interface FollowedWaves {
  readonly scales: readonly Scale[];
  /** All waves that were followed. */
  readonly all: readonly PeriodicWave[];
  /** Those that may be even stripes, at their true pitch, the likeliest first. */
  readonly likely: readonly StripeWave[];
}

/** The sets of even stripes that may be there. */
export function periodicStripes(searches: readonly ScaleSearch[]): FollowedWaves {
  const scales = searches.map((search) => ({ ...search, spectrum: stripeSpectrum(search.signal) }));
  const all = scales.flatMap((scale) =>
    spectralPeaks(scale.spectrum, { ...scale, count: PEAKS })
      .filter((peak) => peak.prominence > LEAST_PROMINENCE)
      .map((peak) => followWave(scale.signal, peak)),
  );
  const sorted = all.filter(isLikely).sort((p, q) => q.evidence - p.evidence);
  const likely: PeriodicWave[] = [];
  for (const wave of sorted) {
    if (likely.length < MOST_WAVES && !likely.some((other) => areAlike(wave, other))) likely.push(wave);
  }
  const sure = sorted.filter(isSure);
  const told = likely
    .map((wave) => steadiest(wave, sorted))
    .map((first) => trueStripes(first, isSure(first) ? sure : sorted, scales))
    .map((stripes) => ({ ...stripes, hiddenStrokes: hiddenStrokesOf(stripes, scales) }));
  return { scales, all, likely: told };
}

type FollowedSigns = Pick<PeriodicWave, 'wave' | 'pitchMm' | 'driftBins' | 'evidence' | 'prominence'>;

/** Bins of the spectrum, log odds, and share of the prominence. */
const DRIFTING = { from: 0.4, lessBy: 0.2, evidence: 1, prominence: 0.5 } as const;

/**
 * A wave whose fit left its peak gives way to one much like it, of another scale, whose fit stayed: the same stripes, told better.
 * That one stands out half as much at least and has nearly the evidence.
 */
export function steadiest<T extends FollowedSigns>(wave: T, others: readonly T[]): T {
  if (wave.driftBins < DRIFTING.from) return wave;
  const steady = others
    .filter(
      (other) =>
        areAlike(other, wave) &&
        other.driftBins < wave.driftBins - DRIFTING.lessBy &&
        other.evidence > wave.evidence - DRIFTING.evidence &&
        other.prominence > DRIFTING.prominence * wave.prominence,
    )
    .sort((p, q) => p.driftBins - q.driftBins)
    .at(0);
  return steady === undefined ? wave : { ...steady, evidence: wave.evidence };
}

const isLikely = (wave: PeriodicWave): boolean =>
  wave.evidence > LEAST.evidence &&
  wave.driftBins < MOST_DRIFT_BINS &&
  wave.amplitude > LEAST.amplitude &&
  wave.reach.acrossMm > LEAST.periods * wave.pitchMm;

/** A wave that is hardly anything else: only another such is a family of its zigzag. */
const isSure = (wave: PeriodicWave): boolean =>
  wave.evidence > SURE.evidence &&
  wave.driftBins < SURE.driftBins &&
  wave.amplitude > SURE.amplitude &&
  wave.coherence.along > SURE.along &&
  wave.reach.alongMm > SURE.alongMm &&
  wave.reach.acrossMm > SURE.periods * wave.pitchMm;

const areAlike = (p: Pick<PeriodicWave, 'wave' | 'pitchMm'>, q: Pick<PeriodicWave, 'wave' | 'pitchMm'>): boolean =>
  Math.abs(Math.sin(angleOf(p) - angleOf(q))) < ALIKE.angle && Math.abs(q.pitchMm / p.pitchMm - 1) < ALIKE.pitch;

/** Direction of the stripes on the raster, radians. */
export const angleOf = ({ wave }: Pick<PeriodicWave, 'wave'>): number => Math.atan2(wave.ky, wave.kx) + Math.PI / 2;

function hiddenStrokesOf({ wave, signal }: PeriodicWave, scales: readonly Scale[]): WaveVector | null {
  const spectra = scales.map(({ spectrum }) => spectrum);
  const own = scales.find((scale) => scale.signal === signal);
  return own === undefined ? null : hiddenStrokes(wave, own.spectrum, spectra);
}

/**
 * The fundamental among a wave's relatives. Longer waves are it when they carry on as well (the first was a harmonic). Half the
 * length is it when strokes to and fro form a zigzag: two families of twice the spacing lean against each other, and what they
 * share turns over in the middle of the swath.
 */
function trueStripes(first: PeriodicWave, sure: readonly PeriodicWave[], scales: readonly Scale[]): PeriodicWave {
  for (const times of [3, 2]) {
    const longer = relativeOf(first, 1 / times, scales);
    if (longer !== null && isFundamentalOf(longer, first)) return trueStripes(longer, sure, scales);
  }
  const strokes = strokesOfFamilies(first, sure, scales);
  if (strokes !== null) return strokes;
  if (sure.some(({ wave }) => areFamilies(wave, first.wave))) return first;
  const half = relativeOf(first, 2, scales);
  return half !== null && isStrokeOf(half, first) ? half : first;
}

/**
 * Strokes of a zigzag whose other family is found too. Of the waves near the mean of both that reach as far across, the one
 * closest in direction, with the evidence of the surer family: what the strokes share fades away from the middle of the swath.
 */
function strokesOfFamilies(
  first: PeriodicWave,
  sure: readonly PeriodicWave[],
  scales: readonly Scale[],
): PeriodicWave | null {
  const apart = { ...LEAN, spacing: RATIO_TOLERANCE };
  const other = sure.find(({ wave }) => areFamilies(first.wave, wave, apart));
  if (other === undefined) return null;
  const wanted = meanOfFamilies(first.wave, other.wave);
  const turn = ({ wave }: PeriodicWave): number => angleBetween(wave, wanted);
  const strokes = wavesNear(wanted, scales)
    .filter(
      ({ prominence, reach }) => prominence >= LEAST_STROKE_PROMINENCE && reach.acrossMm > first.reach.acrossMm / 2,
    )
    .sort((a, b) => turn(a) - turn(b))
    .at(0);
  return strokes === undefined ? null : { ...strokes, evidence: Math.max(strokes.evidence, first.evidence) };
}

const isFundamentalOf = (longer: PeriodicWave, first: PeriodicWave): boolean =>
  longer.evidence > 0 &&
  longer.coherence.along > first.coherence.along - 0.08 &&
  longer.coherence.across > first.coherence.across - 0.12 &&
  longer.amplitude > 0.35 * first.amplitude;

/** Angles by which one family of a zigzag leans against the strokes' mean, and how surely the strokes must carry on across. */
const LEAN = { least: Math.PI / 150, most: Math.PI / 13, across: 0.55 } as const;

/** Less prominent places of the spectrum are no strokes. */
const LEAST_STROKE_PROMINENCE = 2;

function isStrokeOf(half: PeriodicWave, first: PeriodicWave): boolean {
  if (half.prominence < LEAST_STROKE_PROMINENCE) return false;
  const isSteadier = half.coherence.along > first.coherence.along + 0.1 && half.coherence.across > 0.35;
  const lean = angleBetween(half.wave, first.wave);
  return isSteadier || (lean > LEAN.least && lean < LEAN.most && half.coherence.across > LEAN.across);
}

/** Share by which a relative may miss the whole-number ratio. */
const RATIO_TOLERANCE = 0.05;

function relativeOf(first: PeriodicWave, ratio: number, scales: readonly Scale[]): PeriodicWave | null {
  const near = wavesNear({ kx: first.wave.kx * ratio, ky: first.wave.ky * ratio }, scales);
  return near.sort((p, q) => q.evidence - p.evidence).at(0) ?? null;
}

/** What is followed from the strongest place near a wave vector at each scale that reaches it. */
function wavesNear(wanted: WaveVector, scales: readonly Scale[]): PeriodicWave[] {
  const pitch = 1 / Math.hypot(wanted.kx, wanted.ky);
  return scales
    .filter((scale) => pitch > 0.9 * scale.shortestMm && pitch < 1.4 * scale.longestMm)
    .map((scale) => ({ scale, peak: strongestNear(scale.spectrum, wanted) }))
    .flatMap(({ scale, peak }) => (peak === null ? [] : [followWave(scale.signal, peak)]))
    .filter((wave) => Math.abs(wave.pitchMm / pitch - 1) < RATIO_TOLERANCE);
}
