import { solveSymmetric } from '../../geometry/solve-symmetric.ts';
import { neighbourProduct } from './block-coherence.ts';
import type { StripeBlocks } from './stripe-blocks.ts';

/**
 * Phase of the stripes against the plain wave of their cells, radians: a polynomial in cells along (s) and across (t) from the
 * middle, c0 + c1 s + c2 t + c3 s^2 + c4 s t + c5 t^2. Slopes correct direction and pitch; squares are bend and drift.
 */
export interface StripePhase {
  readonly coefficients: readonly number[];
  /** What the polynomial leaves, cycles, weighted root mean square. */
  readonly residualCycles: number;
  /** The cells' amplitudes with the polynomial taken out. */
  readonly re: Float64Array;
  readonly im: Float64Array;
}

const TERMS = 6;
/** Second differences more random than this say nothing about bend. */
const LEAST_BEND_COHERENCE = 0.3;
const ROUNDS = 3;
/** Keeps squares from following noise where there are few cells. */
const BEND_DAMPING = 0.02;

const phaseTerms = (s: number, t: number): number[] => [1, s, t, s * s, s * t, t * t];

export function fitStripePhase(blocks: StripeBlocks): StripePhase {
  const start = startingSlopes(blocks);
  let coefficients = [0, ...start];
  for (let round = 0; round < ROUNDS; round++) {
    const step = leastSquaresStep(blocks, coefficients, round === 0);
    coefficients = coefficients.map((c, k) => c + step[k]);
  }
  const turned = turnBack(blocks, coefficients);
  return { coefficients, ...turned, residualCycles: residualOf(blocks, turned) };
}

/** Bend and drift from second differences, which need no unwrapping, then slopes from first ones. */
function startingSlopes(blocks: StripeBlocks): number[] {
  const alongStep = stepField(blocks, 1, 0);
  const acrossStep = stepField(blocks, 0, 1);
  const bendOf = (field: ReturnType<typeof stepField>, rows: number, columns: number): number => {
    const { coherence, turn } = neighbourProduct(field, rows, columns);
    return coherence > LEAST_BEND_COHERENCE ? turn : 0;
  };
  const quadratic = [bendOf(alongStep, 1, 0) / 2, bendOf(alongStep, 0, 1), bendOf(acrossStep, 0, 1) / 2];
  const flat = turnBack(blocks, [0, 0, 0, ...quadratic]);
  const wave = { ...blocks, ...flat };
  return [neighbourProduct(wave, 1, 0).turn, neighbourProduct(wave, 0, 1).turn, ...quadratic];
}

/** Product of neighbours at each cell, its size the root of the product's: a field of phase steps. */
function stepField(blocks: StripeBlocks, rows: number, columns: number): StripeBlocks {
  const { alongCount, acrossCount, weight, re, im } = blocks;
  const field = {
    ...blocks,
    weight: new Float64Array(re.length),
    re: new Float64Array(re.length),
    im: new Float64Array(re.length),
  };
  for (let row = 0; row + rows < alongCount; row++) {
    for (let column = 0; column + columns < acrossCount; column++) {
      const i = row * acrossCount + column;
      const j = i + rows * acrossCount + columns;
      const w = Math.min(weight[i], weight[j]);
      if (w === 0) continue;
      const pr = re[j] * re[i] + im[j] * im[i];
      const pi = im[j] * re[i] - re[j] * im[i];
      const size = Math.sqrt(Math.hypot(pr, pi)) || 1;
      field.weight[i] = w;
      field.re[i] = pr / size;
      field.im[i] = pi / size;
    }
  }
  return field;
}

function turnBack(blocks: StripeBlocks, coefficients: readonly number[]): { re: Float64Array; im: Float64Array } {
  const re = new Float64Array(blocks.re.length);
  const im = new Float64Array(blocks.re.length);
  eachCell(blocks, (i, s, t) => {
    const phase = phaseTerms(s, t).reduce((sum, term, k) => sum + term * coefficients[k], 0);
    const [c, d] = [Math.cos(phase), Math.sin(phase)];
    re[i] = blocks.re[i] * c + blocks.im[i] * d;
    im[i] = blocks.im[i] * c - blocks.re[i] * d;
  });
  return { re, im };
}

function eachCell(blocks: StripeBlocks, visit: (i: number, s: number, t: number) => void): void {
  const { alongCount, acrossCount, weight } = blocks;
  for (let row = 0, i = 0; row < alongCount; row++) {
    for (let column = 0; column < acrossCount; column++, i++) {
      if (weight[i] > 0) visit(i, row - (alongCount - 1) / 2, column - (acrossCount - 1) / 2);
    }
  }
}

function leastSquaresStep(blocks: StripeBlocks, coefficients: readonly number[], isFirst: boolean): number[] {
  const { re, im } = turnBack(blocks, coefficients);
  const [sumRe, sumIm] = [re, im].map((part) => part.reduce((sum, value, i) => sum + value * blocks.weight[i], 0));
  const offset = isFirst ? Math.atan2(sumIm, sumRe) : 0;
  const matrix = new Float64Array(TERMS * TERMS);
  const right = new Float64Array(TERMS);
  eachCell(blocks, (i, s, t) => {
    const weight = blocks.weight[i] * (re[i] ** 2 + im[i] ** 2);
    const residual = wrap(Math.atan2(im[i], re[i]) - offset);
    const terms = phaseTerms(s, t);
    for (let a = 0; a < TERMS; a++) {
      right[a] += weight * terms[a] * residual;
      for (let b = 0; b < TERMS; b++) matrix[a * TERMS + b] += weight * terms[a] * terms[b];
    }
  });
  const trace = matrix[0];
  for (let k = 0; k < TERMS; k++) matrix[k * TERMS + k] += (k < 3 ? 1e-6 : BEND_DAMPING) * trace + 1e-12;
  const step = solveSymmetric(matrix, right, TERMS);
  if (step === null) return [offset, 0, 0, 0, 0, 0];
  step[0] += offset;
  return [...step];
}

const wrap = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

function residualOf(blocks: StripeBlocks, turned: { re: Float64Array; im: Float64Array }): number {
  let [squares, total] = [0, 0];
  for (let i = 0; i < turned.re.length; i++) {
    const energy = blocks.weight[i] * (turned.re[i] ** 2 + turned.im[i] ** 2);
    squares += energy * Math.atan2(turned.im[i], turned.re[i]) ** 2;
    total += energy;
  }
  return total > 0 ? Math.sqrt(squares / total) / (2 * Math.PI) : 0.5;
}
