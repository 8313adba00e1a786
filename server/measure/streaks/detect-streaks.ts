import { degreesFromRadians, fraction, measured, radians, surfacePoint } from '../../domain/index.ts';
import type { Measured } from '../../domain/index.ts';
import { gridToPlane } from '../geometry/surface-grid.ts';
import { realRuns } from './bands/band-runs.ts';
import { bandLines, stripeLines } from './centre-lines.ts';
import type { ToSurface } from './centre-lines.ts';
import { MOST_LINE_PITCH_MM, areUneven } from './bands/classify-bands.ts';
import { detectBands, detectThroughLines } from './bands/detect-bands.ts';
import type { BandVerdict } from './bands/detect-bands.ts';
import type { StripeDirection } from './bands/stripe-directions.ts';
import { foldStripes } from './waves/fold-stripes.ts';
import { periodicStripes } from './waves/periodic-stripes.ts';
import type { PeriodicWave } from './waves/periodic-wave.ts';
import { phaseMap } from './waves/phase-map.ts';
import { mmPerUnitOf, nativeSurface } from './native-surface.ts';
import { latticePitch, wavePitch } from './pitch-interval.ts';
import type { ReducedSurface, WeighedSurface } from './surface/reduce-surface.ts';
import { bandSearches, groundSignal, lineSearches, searchRasters, waveSearches } from './search-rasters.ts';
import type { StreakExplanation, StreakFinding, StreakInput } from './streak-finding.ts';
import { stripeLikeness } from './waves/stripe-likeness.ts';
import { sampleStripes } from './waves/stripe-samples.ts';
import { expectedPitchMm } from './travel-speed.ts';

/** Smaller zones show too little of anything that repeats, mm2. */
const LEAST_AREA_MM2 = 900;
/**
 * A period whose colours turn more is a bead between its heat tints. Chosen on the test bench: films of rust reach 0.2, welds
 * begin at 0.3.
 */
const MOST_COLOUR_TURN = 0.26;
/**
 * Evidence of a wave grows with the likeness of its periods. Chosen on the test bench: even stripes have 0.7 to 1 and reach 3,
 * grinding that happens to peak stays below 2.1.
 */
const LIKENESS = { weight: 4, usual: 0.75 } as const;
const LEAST_EVIDENCE = 2.9;
/**
 * A wave with a little less evidence is believed where the search for bands, which knows nothing of it, finds something drawn
 * through in its direction, so far above the usual of all directions. Of 349 zones of rendered photos without streaks none has
 * a wave with half of this evidence.
 */
const AGREED = { evidence: 2.2, standout: 8 } as const;
/** From this pitch a zone shows so few stripes that bands can look like them; sine of the angle that both may differ by. */
const FEW_STRIPES_MM = 12;
const SAME_DIRECTION = 0.1;
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
  const rasters = searchRasters(native);
  const scene: Scene = { input, mmPerUnit, native, fine: rasters.whole.fine, base };
  const wave = periodicStripes(waveSearches(rasters));
  const even = wave === null ? null : evenStripes(scene, wave);
  if (even !== null && even.isSure && even.wave.pitchMm < FEW_STRIPES_MM) return even.finding;
  const verdict = detectBands(bandSearches(rasters), groundSignal(rasters), input.settings);
  if (even !== null && (even.isSure || isAgreed(even.wave, verdict)) && !areBands(even.wave, verdict)) {
    return even.finding;
  }
  const bands = verdict.bands ?? detectThroughLines(lineSearches(rasters), verdict, input.settings);
  return bandFinding(scene, bands === null ? verdict : { ...verdict, bands, doubt: null, evidence: bands.evidence });
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

interface EvenStripes {
  readonly wave: PeriodicWave;
  /** Whether the wave alone is enough to believe it. */
  readonly isSure: boolean;
  readonly finding: StreakFinding;
}

function evenStripes(scene: Scene, wave: PeriodicWave): EvenStripes | null {
  const { input, native, fine, base, mmPerUnit } = scene;
  if (wave.pitchMm > MOST_LINE_PITCH_MM) return null;
  const phase = phaseMap(wave);
  const photoPixelMm = mmPerUnit / input.photoPxPerUnit;
  const samples = sampleStripes(native, phase);
  const folded = foldStripes(samples, {
    pitchMm: wave.pitchMm,
    stepMm: native.stepMm,
    photoPixelMm,
    strayCycles: wave.phase.residualCycles,
  });
  if (folded === null || folded.colourTurn > MOST_COLOUR_TURN) return null;
  const evidence = wave.evidence + LIKENESS.weight * ((stripeLikeness(samples, folded) ?? 0) - LIKENESS.usual);
  if (evidence < AGREED.evidence) return null;
  const pitch = wavePitch(wave);
  const finding: StreakFinding = {
    streaks: {
      found: true,
      kind: 'line-pitch',
      pitchMm: input.grid.unit === 'mm' ? pitch : null,
      directionDegrees: cardDirection(scene, stripeAngle(wave)),
      contrastDeltaE00: folded.contrast,
      affectedFraction: fraction(Math.min(1, folded.darkShare * phase.coveredShare)),
    },
    explanation: {
      ...base,
      logOdds: evidence,
      pitchUnits: scaled(pitch, 1 / mmPerUnit),
      centreLines: stripeLines(wave, phase, {
        darkCycle: folded.darkCycle,
        surface: fine,
        toSurface: toSurface(scene),
      }),
    },
  };
  return { wave, isSure: evidence >= LEAST_EVIDENCE, finding };
}

const stripeAngle = ({ wave }: PeriodicWave): number => Math.atan2(wave.ky, wave.kx) + Math.PI / 2;

const isAlong = (wave: PeriodicWave, { frame }: StripeDirection): boolean =>
  Math.abs(Math.sin(frame.angle - stripeAngle(wave))) < SAME_DIRECTION;

const isAgreed = (wave: PeriodicWave, { directions }: BandVerdict): boolean =>
  directions.some((direction) => direction.standout >= AGREED.standout && isAlong(wave, direction));

/** Whether a wave of few periods is bands that happen to lie nearly even. */
function areBands(wave: PeriodicWave, { bands }: BandVerdict): boolean {
  if (bands === null) return false;
  const { candidate } = bands;
  return isAlong(wave, candidate.direction) && areUneven(realRuns(candidate), wave.pitchMm);
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
