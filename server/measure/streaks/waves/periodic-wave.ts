import { blockCoherence } from './block-coherence.ts';
import type { BlockCoherence } from './block-coherence.ts';
import { median } from '../surface/robust-deviation.ts';
import type { SpectralPeak } from './spectral-peaks.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import { stripeBlocks } from './stripe-blocks.ts';
import type { StripeBlocks, WaveVector } from './stripe-blocks.ts';
import { fitStripePhase } from './stripe-phase.ts';
import type { StripePhase } from './stripe-phase.ts';

/** A wave that was followed over the whole zone. */
export interface PeriodicWave {
  readonly signal: StreakSignal;
  readonly blocks: StripeBlocks;
  readonly phase: StripePhase;
  /** In the middle of the raster, bend and drift taken out; per mm. */
  readonly wave: WaveVector;
  readonly pitchMm: number;
  readonly coherence: BlockCoherence;
  readonly prominence: number;
  /** How far the fit's wave number left that of the spectral peak, bins of the spectrum. */
  readonly driftBins: number;
  /** Mean size of the wave, dE00. */
  readonly amplitude: number;
  /** Over what length along the stripes and across them the wave is there, mm. */
  readonly reach: { readonly alongMm: number; readonly acrossMm: number };
  /** Log odds that even stripes are there: see {@link evidenceOf}. */
  readonly evidence: number;
}

/** Cells along the stripes, mm at least: longer than grain and ripples, shorter than a bend matters. */
const ALONG_MM = 12;
/** Pitch from which cells hold one period each instead of two: long waves have few. */
const LONG_PITCH_MM = 9;

export function followWave(signal: StreakSignal, peak: SpectralPeak): PeriodicWave {
  const pitch = 1 / Math.hypot(peak.wave.kx, peak.wave.ky);
  const isLong = pitch >= LONG_PITCH_MM;
  const blocks = stripeBlocks(signal, peak.wave, {
    alongMm: Math.max(ALONG_MM, isLong ? pitch : 2 * pitch),
    acrossMm: isLong ? pitch : Math.max(2 * pitch, 4),
  });
  const phase = fitStripePhase(blocks);
  const coherence = blockCoherence({ ...blocks, re: phase.re, im: phase.im });
  const wave = waveInTheMiddle(blocks, phase);
  const found = {
    signal,
    blocks,
    phase,
    wave,
    pitchMm: 1 / Math.hypot(wave.kx, wave.ky),
    coherence,
    prominence: peak.prominence,
    driftBins: Math.abs(Math.hypot(wave.kx, wave.ky) - 1 / pitch) / peak.binPerMm,
    amplitude: meanSize(blocks),
    reach: reachOf(blocks),
  };
  return { ...found, evidence: evidenceOf(found) };
}

function waveInTheMiddle({ wave, alongMm, acrossMm }: StripeBlocks, { coefficients }: StripePhase): WaveVector {
  const length = Math.hypot(wave.kx, wave.ky);
  const [nx, ny] = [wave.kx / length, wave.ky / length];
  const along = coefficients[1] / (2 * Math.PI * alongMm);
  const across = length + coefficients[2] / (2 * Math.PI * acrossMm);
  return { kx: across * nx + along * ny, ky: across * ny - along * nx };
}

function meanSize({ weight, re, im }: StripeBlocks): number {
  let [sum, total] = [0, 0];
  for (let i = 0; i < weight.length; i++) {
    sum += weight[i] * Math.hypot(re[i], im[i]);
    total += weight[i];
  }
  return total > 0 ? sum / total : 0;
}

/**
 * Weights of a logistic regression on test surfaces and rendered scenes (6000 peaks of unstreaked ones, 600 true ones), rounded.
 * What speaks for even stripes: the peak stands out, cells carry on each other's wave across one and two cells, there are many
 * cells across, the wave is more than a trace, and it fills the zone.
 */
const EVIDENCE = {
  offset: -17,
  prominence: 1.6,
  across: 6.9,
  acrossTwice: 6.6,
  fewColumns: -2.6,
  amplitude: 0.58,
  spreadAcross: 0.65,
  spreadAlong: 2.8,
} as const;

function evidenceOf(found: Pick<PeriodicWave, 'blocks' | 'coherence' | 'prominence' | 'amplitude'>): number {
  const { blocks, coherence } = found;
  const spread = energySpread(blocks);
  return (
    EVIDENCE.offset +
    EVIDENCE.prominence * Math.log(Math.max(found.prominence, 0.1)) +
    EVIDENCE.across * coherence.across +
    EVIDENCE.acrossTwice * coherence.acrossTwice +
    EVIDENCE.fewColumns / blocks.acrossCount +
    EVIDENCE.amplitude * Math.log(Math.max(found.amplitude, 0.05)) +
    EVIDENCE.spreadAcross * Math.log(Math.max(spread.across, 1)) +
    EVIDENCE.spreadAlong * Math.log(Math.max(spread.along, 1))
  );
}

/** Over how many columns and rows the wave's energy is spread: (sum e)^2 / sum e^2. */
export function energySpread({ weight, re, im, acrossCount, alongCount }: StripeBlocks): {
  across: number;
  along: number;
} {
  const columns = new Float64Array(acrossCount);
  const rows = new Float64Array(alongCount);
  for (let i = 0; i < weight.length; i++) {
    const energy = weight[i] * (re[i] ** 2 + im[i] ** 2);
    columns[i % acrossCount] += energy;
    rows[Math.floor(i / acrossCount)] += energy;
  }
  return { across: effectiveCount(columns), along: effectiveCount(rows) };
}

/** Where a few rows or columns hold this share of the energy over what the others have, they alone count. */
const STANDING_SHARE = 0.5;

/**
 * Length over which the wave is there, along the stripes and across them, mm: rows and columns of cells that hold its energy.
 */
function reachOf(blocks: StripeBlocks): PeriodicWave['reach'] {
  const { acrossCount, alongCount } = blocks;
  return {
    alongMm: blocks.alongMm * standingCount(blocks, alongCount, (i) => Math.floor(i / acrossCount)),
    acrossMm: blocks.acrossMm * standingCount(blocks, acrossCount, (i) => i % acrossCount),
  };
}

function standingCount({ weight, re, im }: StripeBlocks, count: number, lineOf: (cell: number) => number): number {
  const energy = new Float64Array(count);
  const filled = new Float64Array(count);
  for (let i = 0; i < weight.length; i++) {
    energy[lineOf(i)] += weight[i] * (re[i] ** 2 + im[i] ** 2);
    filled[lineOf(i)] += weight[i];
  }
  const ground = median(energy.map((e, k) => e / filled[k]).filter((_, k) => filled[k] > 0));
  const excess = energy.map((e, k) => Math.max(0, e - ground * filled[k]));
  const sum = (values: Float64Array): number => values.reduce((total, v) => total + v, 0);
  return sum(excess) > STANDING_SHARE * sum(energy) ? effectiveCount(excess) : effectiveCount(energy);
}

/** (sum e)^2 / sum e^2: n for n equal energies. */
function effectiveCount(energies: Float64Array): number {
  let [sum, squares] = [0, 0];
  for (const energy of energies) {
    sum += energy;
    squares += energy * energy;
  }
  return squares > 0 ? (sum * sum) / squares : 0;
}
