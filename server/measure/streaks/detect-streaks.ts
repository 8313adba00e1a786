import { degreesFromRadians, fraction, measured, radians, surfacePoint } from '../../domain/index.ts';
import type { Measured } from '../../domain/index.ts';
import { gridToPlane } from '../geometry/surface-grid.ts';
import { realRuns } from './bands/band-runs.ts';
import { bandLines, stripeLines } from './centre-lines.ts';
import type { ToSurface } from './centre-lines.ts';
import { MOST_LINE_PITCH_MM, areUneven } from './bands/classify-bands.ts';
import { detectBands } from './bands/detect-bands.ts';
import type { BandVerdict } from './bands/detect-bands.ts';
import type { StripeDirection } from './bands/stripe-directions.ts';
import { weighByTrees } from '../evidence-trees.ts';
import { signedWaves } from './signed-waves.ts';
import type { SignedWave } from './signed-waves.ts';
import { likeliestOvertone, oddsOfHand } from './waves/likeliest-overtone.ts';
import { angleOf } from './waves/periodic-stripes.ts';
import type { StripeWave } from './waves/periodic-stripes.ts';
import type { PeriodicWave } from './waves/periodic-wave.ts';
import type { WaveVector } from './waves/stripe-blocks.ts';
import { WAVE_SIGNS } from './waves/wave-signs.ts';
import { WAVE_TREES } from './waves/wave-trees.ts';
import { angleBetween, areFamilies, areSidesOf, areTwins, meanOfFamilies, staysOnPeak } from './waves/zigzag.ts';
import { filmShares, mmPerUnitOf, nativeSurface } from './native-surface.ts';
import { latticePitch, wavePitch, zigzagPitch } from './pitch-interval.ts';
import type { ReducedSurface, WeighedSurface } from './surface/reduce-surface.ts';
import { bandSearches, bandGround, searchRasters } from './search-rasters.ts';
import type { StreakExplanation, StreakFinding, StreakInput } from './streak-finding.ts';
import { expectedPitchMm } from './travel-speed.ts';

/** Smaller zones show too little of anything that repeats, mm2. */
const LEAST_AREA_MM2 = 900;
/**
 * Evidence from which waves are streaks: see that of bands. Welds and the rims of patterned plates come up to 0.3, and waves of
 * less add 3 in 1000 of the streaks at most, some of them told by half their pitch.
 */
const LEAST_EVIDENCE = 0.4;
/**
 * Evidence from which another wave is the second family of a zigzag: of 9837 zones the true ones have -0.5 and more, and what only
 * looks like one up to -0.9. With less it must be the first one's twin.
 */
const LEAST_FAMILY_EVIDENCE = -0.5;
/**
 * Evidence from which three waves of which one is the sum of the others are strokes and both their sides: in 2318 zones with streaks
 * so they are in all 23 that have such waves. With less there are seven more, one of them strokes.
 */
const LEAST_EVIDENCE_OF_THREE = { strokes: -1.5, side: -2.5 } as const;
/**
 * What the second family adds to the evidence of the first: of 9837 zones 26 have two such waves, and in all of them are even
 * stripes, though in two neither wave would do alone.
 */
const EVIDENCE_OF_FAMILY = 1;
/**
 * A wave askew to a zigzag's strokes: share by which its pitch may differ from theirs, and angles. What turns less is the strokes
 * themselves, and they tell their direction better than two families of little lean do.
 */
const ASKEW = { pitch: 0.06, least: Math.PI / 36, most: Math.PI / 10 } as const;
/** From this pitch a zone shows so few stripes that bands can look like them; sine of the angle that both may differ by. */
const FEW_STRIPES_MM = 12;
const SAME_DIRECTION = 0.1;
/**
 * Bands with so much more evidence than a wave of few stripes are no such wave but a few lines that it chimes with: so in 80 of 90
 * zones that no fit had seen, where of those with less it was the wave that was right in 149 of 215.
 */
const MUCH_MORE_EVIDENCE = 2;
/** Pitches below these cannot be seen: photo pixels, and mm. */
const LEAST_VISIBLE = { photoPx: 4, mm: 1 } as const;

/**
 * Finds streaks of the laser in a zone and explains them.
 *
 * First even stripes are sought, as narrow peaks of the mean spectrum whose wave carries on from cell to cell; then lines
 * that few or uneven runs leave, as what is drawn through all strips of one direction. Each is weighed against what grinding,
 * rolling, rust and clouds can do, and against shadows, joints and welds.
 */
export function detectStreaks(input: StreakInput): StreakFinding {
  const mmPerUnit = mmPerUnitOf(input);
  const native = nativeSurface(input, mmPerUnit);
  const base = explanationBase(input);
  if (usableArea(native) < LEAST_AREA_MM2) return notFound({ ...base, doubt: 'nothing-runs-through' });
  const rasters = searchRasters(native, filmShares(input));
  const scene: Scene = { input, mmPerUnit, native, fine: rasters.whole.fine, base };
  // On a raster without millimetres nothing can be set beside the settings.
  const isInMm = input.grid.unit === 'mm';
  const intendedMm = isInMm ? base.expectedPitchMm : null;
  const scanWidthMm = isInMm ? (input.settings?.scanWidthMm ?? null) : null;
  const even = surestWave(signedWaves(native, rasters, input.photoPxPerUnit / mmPerUnit), intendedMm);
  if (even !== null && (even.wave.pitchMm < FEW_STRIPES_MM || even.strokes !== null)) return waveFinding(scene, even);
  const verdict = detectBands(bandSearches(rasters), bandGround(rasters), scanWidthMm);
  if (even !== null && !isToldByLines(even, verdict)) return waveFinding(scene, even);
  return bandFinding(scene, verdict);
}

interface Scene {
  readonly input: StreakInput;
  readonly mmPerUnit: number;
  readonly native: WeighedSurface;
  readonly fine: ReducedSurface;
  readonly base: StreakExplanation;
}

function usableArea({ weight, stepMm }: WeighedSurface): number {
  let count = 0;
  for (let i = 0; i < weight.length; i++) count += weight[i];
  return count * stepMm * stepMm;
}

function explanationBase({ settings, strokesPerCycle, photoPxPerUnit, grid }: StreakInput): StreakExplanation {
  const expected = settings === null ? null : expectedPitchMm(settings, strokesPerCycle);
  const isTooFine =
    expected !== null &&
    (expected < LEAST_VISIBLE.mm || (grid.unit === 'mm' && expected * photoPxPerUnit < LEAST_VISIBLE.photoPx));
  return {
    logOdds: null,
    doubt: null,
    pitchUnits: null,
    centreLines: [],
    expectedPitchMm: expected,
    unresolved: isTooFine ? 'pitch-finer-than-photo' : null,
  };
}

const notFound = (explanation: StreakExplanation): StreakFinding => ({
  streaks: {
    found: false,
    kind: null,
    pitchMm: null,
    directionDegrees: null,
    contrastDeltaE00: 0,
    affectedFraction: fraction(0),
  },
  explanation,
});

interface WeighedWave extends SignedWave {
  readonly evidence: number;
}

interface SureWave extends WeighedWave {
  /** The other family, where strokes to and fro form two. */
  readonly family: WeighedWave | null;
  /** Wave vector of the strokes of a zigzag; null where the wave itself is the strokes. */
  readonly strokes: WaveVector | null;
}

/**
 * The wave with most evidence, if that is enough, its own or that of both families; bands explain longer ones better.
 * @param intendedMm spacing of strokes that the settings lead to, where they are known
 */
function surestWave(waves: readonly SignedWave[], intendedMm: number | null): SureWave | null {
  const all = waves
    .map((one) => ({
      ...one,
      evidence: weighByTrees(
        WAVE_TREES,
        WAVE_SIGNS.map((sign) => one.signs[sign]),
      ),
    }))
    .sort((p, q) => q.evidence - p.evidence);
  const zigzag = zigzagAmong(all);
  const isShort = (one: WeighedWave): boolean => one.wave.pitchMm <= MOST_LINE_PITCH_MM;
  // Families lie twice as far apart as their strokes.
  const weighed = all.filter((one) => isShort(one) || (zigzag?.includes(one) ?? false));
  const surest = weighed.at(0);
  if (surest === undefined) return null;
  if (zigzag === null || !(zigzag.includes(surest) || isAskew(surest, zigzag))) {
    const { evidence } = surest;
    if (evidence < LEAST_EVIDENCE) return null;
    const told = strokesBetween(surest, all) ?? surest;
    const likeliest = likeliestOvertone(told, weighed, intendedMm);
    return { ...likeliest, evidence, family: null, strokes: likelyStrokes(likeliest.wave, intendedMm) };
  }
  const [first, family] = zigzag;
  const evidence = surest.evidence + EVIDENCE_OF_FAMILY;
  if (evidence < LEAST_EVIDENCE) return null;
  // A family with little evidence of its own is told better by the spectrum.
  const hidden = isSureFamily(family) ? null : likelyStrokes(first.wave, intendedMm);
  return { ...first, evidence, family, strokes: hidden ?? meanOfFamilies(first.wave.wave, family.wave.wave) };
}

/** A wave that the surest and another lean about; null where there is none. */
function strokesBetween(surest: WeighedWave, all: readonly WeighedWave[]): WeighedWave | null {
  const { strokes, side } = LEAST_EVIDENCE_OF_THREE;
  const others = all.filter(({ evidence }) => evidence > side);
  const found = all.find(
    ({ wave, evidence }) =>
      evidence > strokes && others.some((other) => areSidesOf(wave.wave, surest.wave.wave, other.wave.wave)),
  );
  return found ?? null;
}

const isSureFamily = ({ evidence }: WeighedWave): boolean => evidence > LEAST_FAMILY_EVIDENCE;

/** Strokes of a zigzag whose other family is hidden, unless the settings speak for the wave itself. */
function likelyStrokes({ pitchMm, hiddenStrokes }: StripeWave, intendedMm: number | null): WaveVector | null {
  if (hiddenStrokes === null || intendedMm === null) return hiddenStrokes;
  const spacingMm = 1 / Math.hypot(hiddenStrokes.kx, hiddenStrokes.ky);
  return oddsOfHand(spacingMm, intendedMm) < oddsOfHand(pitchMm, intendedMm) ? null : hiddenStrokes;
}

type Zigzag = readonly [WeighedWave, WeighedWave];

/** The surest two families of strokes to and fro, the surer first. */
function zigzagAmong(weighed: readonly WeighedWave[]): Zigzag | null {
  const steady = weighed.filter(({ wave }) => staysOnPeak(wave));
  for (const [k, first] of steady.entries()) {
    const family = steady
      .slice(k + 1)
      .find(
        (other) =>
          (isSureFamily(other) || areTwins(other.wave, first.wave)) && areFamilies(other.wave.wave, first.wave.wave),
      );
    if (family !== undefined) return [first, family];
  }
  return null;
}

/** Whether a wave has the pitch of a zigzag's strokes, but not their direction: where strokes meet they look like such stripes. */
function isAskew({ wave }: WeighedWave, [first, family]: Zigzag): boolean {
  const strokes = meanOfFamilies(first.wave.wave, family.wave.wave);
  const ratio = wave.pitchMm * Math.hypot(strokes.kx, strokes.ky);
  const turn = angleBetween(wave.wave, strokes);
  return Math.abs(ratio - 1) < ASKEW.pitch && turn > ASKEW.least && turn < ASKEW.most;
}

function waveFinding(scene: Scene, { family, strokes, ...surest }: SureWave): StreakFinding {
  const { input, fine, base, mmPerUnit } = scene;
  const { wave, phase, folded, evidence } = surest;
  const stripes = family === null ? [surest] : [surest, family];
  const families = stripes.map((one) => one.wave);
  const pitch = strokes === null ? wavePitch(wave) : zigzagPitch(strokes, families);
  return {
    streaks: {
      found: true,
      kind: 'line-pitch',
      pitchMm: input.grid.unit === 'mm' ? pitch : null,
      directionDegrees: cardDirection(scene, angleOf({ wave: strokes ?? wave.wave })),
      contrastDeltaE00: folded.contrast,
      // Each family's fold sees the dark of both.
      affectedFraction: fraction(Math.min(1, folded.darkShare * phase.coveredShare)),
    },
    explanation: {
      ...base,
      logOdds: evidence,
      pitchUnits: scaled(pitch, 1 / mmPerUnit),
      centreLines: stripes.flatMap((one) =>
        stripeLines(one.wave, one.phase, {
          darkCycle: one.folded.darkCycle,
          surface: fine,
          toSurface: toSurface(scene),
        }),
      ),
    },
  };
}

const isAlong = (wave: PeriodicWave, { frame }: Pick<StripeDirection, 'frame'>): boolean =>
  Math.abs(Math.sin(frame.angle - angleOf(wave))) < SAME_DIRECTION;

/** Whether a wave of few periods is better told line by line. */
const isToldByLines = ({ wave, evidence }: SureWave, verdict: BandVerdict): boolean =>
  (verdict.bands?.evidence ?? -Infinity) > evidence + MUCH_MORE_EVIDENCE ||
  areBands(wave, verdict) ||
  isTrueLattice(wave, verdict);

/** Whether a wave of few periods is bands that happen to lie nearly even. */
function areBands(wave: PeriodicWave, { bands }: BandVerdict): boolean {
  if (bands === null) return false;
  const { candidate } = bands;
  return isAlong(wave, candidate.direction) && areUneven(realRuns(candidate), wave.pitchMm);
}

/** Whether a wave of few periods is seen line by line, and its pitch so told more closely. */
function isTrueLattice(wave: PeriodicWave, { bands }: BandVerdict): boolean {
  if (bands?.kind !== 'line-pitch' || bands.lattice === null || !isAlong(wave, bands.candidate.direction)) return false;
  const [closer, wider] = [latticePitch(bands.lattice), wavePitch(wave)];
  const isWithin = closer.value > wider.low && closer.value < wider.high;
  return isWithin && closer.high - closer.low < wider.high - wider.low;
}

function bandFinding(scene: Scene, verdict: BandVerdict): StreakFinding {
  const { bands } = verdict;
  if (bands === null) return notFound({ ...scene.base, logOdds: verdict.evidence, doubt: verdict.doubt });
  const { candidate, colours, lattice, kind } = bands;
  const { frame } = candidate.direction;
  const runs = realRuns(candidate);
  const pitch = lattice === null ? null : latticePitch(lattice);
  return {
    streaks: {
      found: true,
      kind,
      pitchMm: scene.input.grid.unit === 'mm' ? pitch : null,
      directionDegrees: cardDirection(scene, frame.angle),
      contrastDeltaE00: colours.contrast,
      affectedFraction: fraction(colours.affectedShare),
    },
    explanation: {
      ...scene.base,
      logOdds: bands.evidence,
      pitchUnits: pitch === null ? null : scaled(pitch, 1 / scene.mmPerUnit),
      centreLines: bandLines(runs, {
        frame,
        extent: candidate.extent,
        surface: scene.fine,
        toSurface: toSurface(scene),
      }),
    },
  };
}

const scaled = ({ value, low, high }: Measured, factor: number): Measured =>
  measured(value * factor, low * factor, high * factor);

/** Direction on the raster, radians, to degrees in the card frame, [0, 180). */
function cardDirection({ input }: Scene, angle: number): number {
  const turned = degreesFromRadians(radians(angle + input.grid.angle)) % 180;
  const positive = turned < 0 ? turned + 180 : turned;
  return positive >= 180 ? 0 : positive;
}

/** Raster mm to the card frame. */
function toSurface({ input, native }: Scene): ToSurface {
  return (x, y) => {
    const [px, py] = gridToPlane(input.grid, x / native.stepMm, y / native.stepMm);
    return surfacePoint(px, py);
  };
}
