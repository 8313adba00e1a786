import { type RoundDose } from './round-dose.ts';

/**
 * The surface as a population of small elements (flakes, pit bottoms, patches of film), each with its own threshold.
 * Parameters of many candidate surfaces are held side by side, one array per parameter, because advice weighs thousands.
 */
export interface SurfaceCandidates {
  readonly count: number;
  /** Natural logarithm of the median threshold, J/cm2. */
  readonly lnThreshold: Float64Array;
  readonly thresholdSpread: Float64Array;
  readonly energyJPerCm2: Float64Array;
  readonly biteExponent: Float64Array;
  readonly shape: Float64Array;
  readonly resistantShare: Float64Array;
}

/**
 * Classes of elements by threshold, in deviations from the median, with their shares. Finer at the hard end, since a few
 * percent left over are what a target asks about. Cut points 15, 35, 55, 70, 82, 90, 95, 98 %; each class stands at its
 * own median of the normal distribution.
 */
const CLASS_DEVIATIONS = [-1.4395, -0.6745, -0.1257, 0.3186, 0.7063, 1.0803, 1.4395, 1.8119, 2.3263] as const;
const CLASS_SHARES = [0.15, 0.2, 0.2, 0.15, 0.12, 0.08, 0.05, 0.03, 0.02] as const;
export const ELEMENT_CLASSES = CLASS_SHARES.length;

/**
 * How sharply a stroke fails below the threshold: at half the threshold it still does 1 / (1 + 2^4) = 6 % of its work,
 * at twice 94 %. Chosen so that the spread between elements, not this number, shapes the plateau.
 */
const STEEPNESS = 4;

/** Progress of the classes of one candidate: {@link ELEMENT_CLASSES} numbers from `start`. */
export interface ClassProgress {
  readonly values: Float64Array;
  readonly start: number;
}

/**
 * Adds a round to what each class of one candidate has already received. Progress of a class grows with areal energy,
 * times the share of the work that a stroke of this bite does on it: energy / E0 x bite^4 / (bite^4 + threshold^4).
 *
 * @param progress changed in place; `scale` is a factor on the energy, for example of a hand slower than intended
 */
export function addRound(
  candidates: SurfaceCandidates,
  candidate: number,
  dose: RoundDose,
  progress: ClassProgress & { readonly scale: number },
): void {
  const gain = (progress.scale * dose.energyJPerCm2) / candidates.energyJPerCm2[candidate];
  const lnBite = dose.lnFluence + (candidates.biteExponent[candidate] - 1) * dose.lnDwell;
  const lnExcess = lnBite - candidates.lnThreshold[candidate];
  const spread = candidates.thresholdSpread[candidate];
  for (let element = 0; element < ELEMENT_CLASSES; element++) {
    const lnRatio = lnExcess - spread * CLASS_DEVIATIONS[element];
    progress.values[progress.start + element] += gain / (1 + Math.exp(-STEEPNESS * lnRatio));
  }
}

/** Keeps ratios of shares finite; far below what any photo shows. */
const LEAST_SHARE = 1e-9;

/** Share of the classes of one candidate that is still there: sum of exp(-progress^shape), and the part that never yields. */
export function remainingShare(candidates: SurfaceCandidates, candidate: number, progress: ClassProgress): number {
  const shape = candidates.shape[candidate];
  let left = 0;
  for (let element = 0; element < ELEMENT_CLASSES; element++) {
    left += CLASS_SHARES[element] * Math.exp(-(progress.values[progress.start + element] ** shape));
  }
  const resistant = candidates.resistantShare[candidate];
  return Math.max(LEAST_SHARE, resistant + (1 - resistant) * left);
}

/** Change of {@link remainingShare} when the latest round's energy grows by its own size: d share / d ln energy. */
export function energySensitivity(
  candidates: SurfaceCandidates,
  candidate: number,
  before: Float64Array,
  after: Float64Array,
): number {
  const shape = candidates.shape[candidate];
  const start = candidate * ELEMENT_CLASSES;
  let slope = 0;
  for (let element = 0; element < ELEMENT_CLASSES; element++) {
    const total = after[start + element];
    if (total <= 0) continue;
    const power = total ** shape;
    slope -= CLASS_SHARES[element] * Math.exp(-power) * shape * power * (1 - before[start + element] / total);
  }
  return (1 - candidates.resistantShare[candidate]) * slope;
}
