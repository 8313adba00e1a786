import { NOT_TOLD } from '../../evidence-trees.ts';
import type { DwellWave } from './dwell-wave.ts';
import type { FoldedStripes } from './fold-stripes.ts';
import { angleOf } from './periodic-stripes.ts';
import type { FollowedWaves } from './periodic-stripes.ts';
import { energySpread } from './periodic-wave.ts';
import type { PeriodicWave } from './periodic-wave.ts';
import { strongestNear } from './spectral-peaks.ts';

/** A period of a wave on one surface, and how alike its periods are. */
export interface Fold extends FoldedStripes {
  readonly likeness: number;
  readonly dwell: DwellWave | null;
}

/** What speaks for a wave beside itself. */
export interface WaveWitness {
  /** Its period on all of the surface, and on the ground between residue; null where it could not be folded. */
  readonly whole: Fold | null;
  readonly ground: Fold | null;
  /** Share of the usable area that it reaches. */
  readonly covered: number;
  /** Share of the small steps' energy across its direction. */
  readonly grain: number;
  /** Mean probability of residue in the zone; null where nobody told. */
  readonly residueShare: number | null;
  /** Photo pixels per mm. */
  readonly pxPerMm: number;
}

/** What is told of a wave, in the order in which the trees of its evidence number them. */
export const WAVE_SIGNS = [
  'prominence',
  'along',
  'across',
  'acrossTwice',
  'rows',
  'columns',
  'amplitude',
  'drift',
  'spreadAlong',
  'spreadAcross',
  'periods',
  'residual',
  'pitch',
  'pitchPx',
  'covered',
  'contrast',
  'turn',
  'dark',
  'likeness',
  'groundContrast',
  'groundTurn',
  'groundLikeness',
  'half',
  'twice',
  'others',
  'strangers',
  'grain',
  'dwellWave',
  'dwellMean',
  'residueShare',
] as const;
export type WaveSigns = { readonly [sign in (typeof WAVE_SIGNS)[number]]: number };

const logOf = (value: number, least: number): number => Math.log(Math.max(value, least));

export function waveSigns(wave: PeriodicWave, followed: FollowedWaves, witness: WaveWitness): WaveSigns {
  const { blocks, coherence, phase, pitchMm } = wave;
  const { whole, ground, covered, grain } = witness;
  const spread = energySpread(blocks);
  return {
    prominence: logOf(wave.prominence, 0.05),
    along: coherence.along,
    across: coherence.across,
    acrossTwice: coherence.acrossTwice,
    rows: logOf(blocks.alongCount, 1),
    columns: logOf(blocks.acrossCount, 1),
    amplitude: logOf(wave.amplitude, 0.05),
    drift: wave.driftBins,
    spreadAlong: logOf(spread.along, 0.05),
    spreadAcross: logOf(spread.across, 0.05),
    periods: logOf(wave.reach.acrossMm / pitchMm, 0.001),
    residual: phase.residualCycles,
    pitch: Math.log(pitchMm),
    pitchPx: Math.log(pitchMm * witness.pxPerMm),
    covered,
    contrast: logOf(whole?.contrast ?? 0, 0.1),
    turn: Math.min(whole?.colourTurn ?? 1, 1),
    dark: whole?.darkShare ?? 0.5,
    likeness: whole?.likeness ?? 0,
    groundContrast: logOf(ground?.contrast ?? 0, 0.1),
    groundTurn: Math.min(ground?.colourTurn ?? 1, 1),
    groundLikeness: ground?.likeness ?? 0,
    half: prominenceAt(wave, 0.5, followed),
    twice: prominenceAt(wave, 2, followed),
    ...relatives(wave, followed),
    grain,
    dwellWave: whole?.dwell?.amplitude ?? NOT_TOLD,
    dwellMean: whole?.dwell?.mean ?? NOT_TOLD,
    residueShare: witness.residueShare ?? NOT_TOLD,
  };
}

/** Pitches that a scale shows, as shares of those that are sought in it. */
const SHOWN = { shortest: 0.85, longest: 1.4 } as const;

/** Logarithm of how far the spectrum stands out at so many times the wave's number: of stripes at their harmonics. */
function prominenceAt({ wave }: PeriodicWave, times: number, { scales }: FollowedWaves): number {
  const wanted = { kx: wave.kx * times, ky: wave.ky * times };
  const pitch = 1 / Math.hypot(wanted.kx, wanted.ky);
  const seen = scales
    .filter(({ shortestMm, longestMm }) => pitch >= SHOWN.shortest * shortestMm && pitch <= SHOWN.longest * longestMm)
    .map(({ spectrum }) => strongestNear(spectrum, wanted)?.prominence ?? 0);
  return logOf(Math.max(0, ...seen), 0.1);
}

/** Angles in degrees: waves of one direction, and of another one. */
const SAME_DEGREES = 6;
const OTHER_DEGREES = 8;
/** Shares of the pitch that a wave's relatives have, and how well. */
const RELATIVES = [1, 2, 3, 0.5] as const;
const RELATED = 0.08;
const LEAST_EVIDENCE = -12;

/** Evidence of waves of other directions, and how many of its own direction are no relatives: a brush has many. */
function relatives(wave: PeriodicWave, { all }: FollowedWaves): Pick<WaveSigns, 'others' | 'strangers'> {
  const turn = (other: PeriodicWave): number =>
    (Math.asin(Math.abs(Math.sin(angleOf(wave) - angleOf(other)))) * 180) / Math.PI;
  const isRelative = (other: PeriodicWave): boolean =>
    RELATIVES.some((times) => Math.abs((other.pitchMm / wave.pitchMm) * times - 1) <= RELATED);
  return {
    others: Math.max(
      LEAST_EVIDENCE,
      ...all.filter((other) => turn(other) > OTHER_DEGREES).map(({ evidence }) => evidence),
    ),
    strangers: all.filter((other) => turn(other) < SAME_DEGREES && !isRelative(other)).length,
  };
}
