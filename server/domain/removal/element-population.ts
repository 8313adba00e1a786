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
  /** Part of the surface with much harder elements: deep pits, tight islands, another material. */
  readonly resistantShare: Float64Array;
  /** How far the threshold of that part lies above the median, as a logarithm; infinite where it never yields. */
  readonly resistantStep: Float64Array;
  /** Part of the gaps between strokes that overlap and the beam's skirt close, 0 to 1. */
  readonly gapsClosed: Float64Array;
}

/**
 * Classes of elements by threshold, in deviations from the median, with their shares. Finer at the hard end, since a few
 * percent left over are what a target asks about. Cut points 15, 35, 55, 70, 82, 90, 95, 98 %; each class stands at its
 * own median of the normal distribution.
 */
const CLASS_DEVIATIONS = [-1.4395, -0.6745, -0.1257, 0.3186, 0.7063, 1.0803, 1.4395, 1.8119, 2.3263] as const;
const CLASS_SHARES = [0.15, 0.2, 0.2, 0.15, 0.12, 0.08, 0.05, 0.03, 0.02] as const;
const ORDINARY_CLASSES = CLASS_SHARES.length;
/** The resistant part is one more class, the last. */
export const ELEMENT_CLASSES = ORDINARY_CLASSES + 1;

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

/** Rates of one candidate while a round is added. */
const RATES = new Float64Array(ELEMENT_CLASSES);

/**
 * Adds a round to what each class of one candidate has already received.
 *
 * @param progress changed in place; `scale` is a factor on the energy, for example of a hand slower than intended
 */
export function addRound(
  candidates: SurfaceCandidates,
  candidate: number,
  dose: RoundDose,
  progress: ClassProgress & { readonly scale: number },
): void {
  strokeRates(candidates, candidate, dose, RATES);
  const energy = progress.scale * dose.energyJPerCm2;
  for (let element = 0; element < ELEMENT_CLASSES; element++) {
    progress.values[progress.start + element] += energy * RATES[element];
  }
}

/**
 * Progress of each class for each J/cm2: the share of the work that a stroke of this bite does on it, over the energy
 * that thins well-bitten elements, 1 / E0 x bite^4 / (bite^4 + threshold^4).
 */
export function strokeRates(
  candidates: SurfaceCandidates,
  candidate: number,
  stroke: Pick<RoundDose, 'lnFluence' | 'lnDwell'>,
  rates: Float64Array,
): void {
  const perEnergy = 1 / candidates.energyJPerCm2[candidate];
  const lnBite = stroke.lnFluence + (candidates.biteExponent[candidate] - 1) * stroke.lnDwell;
  const lnExcess = lnBite - candidates.lnThreshold[candidate];
  const spread = candidates.thresholdSpread[candidate];
  for (let element = 0; element < ORDINARY_CLASSES; element++) {
    const lnRatio = lnExcess - spread * CLASS_DEVIATIONS[element];
    rates[element] = perEnergy / (1 + Math.exp(-STEEPNESS * lnRatio));
  }
  rates[ORDINARY_CLASSES] = perEnergy / (1 + Math.exp(-STEEPNESS * (lnExcess - candidates.resistantStep[candidate])));
}

/** Keeps ratios of shares finite; far below what any photo shows. */
const LEAST_SHARE = 1e-9;

/** Elements with more progress than this are gone for every shape that is believed possible: exp(-150^0.5) is 5e-6. */
const GONE_PROGRESS = 150;

/** Logarithms of progress^shape between which {@link survival} is tabulated: below all stays, above nothing does. */
const SURVIVAL = { from: -14, to: 3.5, perUnit: 512 } as const;
const SURVIVAL_STEPS = (SURVIVAL.to - SURVIVAL.from) * SURVIVAL.perUnit;
const survivalTable = (value: (power: number) => number): Float64Array =>
  Float64Array.from({ length: SURVIVAL_STEPS + 2 }, (_, step) =>
    value(Math.exp(SURVIVAL.from + step / SURVIVAL.perUnit)),
  );
const SURVIVALS = survivalTable((power) => Math.exp(-power));
/** Fall of the survival when progress^shape grows by its own size. */
const FALLS = survivalTable((power) => power * Math.exp(-power));

/** exp(-progress^shape) within 1e-6, from a table between whose steps it runs straight: advice asks for it millions of times. */
function survival(progress: number, shape: number): number {
  const place = (shape * Math.log(progress) - SURVIVAL.from) * SURVIVAL.perUnit;
  if (!(place > 0)) return 1;
  const step = Math.floor(place);
  if (step >= SURVIVALS.length - 1) return 0;
  return SURVIVALS[step] + (place - step) * (SURVIVALS[step + 1] - SURVIVALS[step]);
}

/** Share of one candidate's elements that is still there: the sum over classes of share x exp(-progress^shape). */
export function remainingShare(candidates: SurfaceCandidates, candidate: number, progress: ClassProgress): number {
  const shape = candidates.shape[candidate];
  let left = 0;
  for (let element = 0; element < ORDINARY_CLASSES; element++) {
    const value = progress.values[progress.start + element];
    if (value < GONE_PROGRESS) left += CLASS_SHARES[element] * survival(value, shape);
  }
  const resistant = candidates.resistantShare[candidate];
  if (resistant === 0) return Math.max(LEAST_SHARE, left);
  const resisting = survival(progress.values[progress.start + ORDINARY_CLASSES], shape);
  return Math.max(LEAST_SHARE, resistant * resisting + (1 - resistant) * left);
}

/** What is left of one candidate after a round, and how that hangs on the round's energy. */
export interface RoundEnd {
  share: number;
  /** Change of the share when the round's energy grows by its own size: d share / d ln energy. */
  slope: number;
}

/**
 * As {@link remainingShare}, with its slope, in one go because advice asks for both thousands of times.
 *
 * @param progress of the candidate's classes, before and after the round
 */
export function endOfRound(
  candidates: SurfaceCandidates,
  candidate: number,
  { before, after }: { readonly before: Float64Array; readonly after: Float64Array },
  end: RoundEnd,
): void {
  const shape = candidates.shape[candidate];
  const resistant = candidates.resistantShare[candidate];
  let [left, slope] = [0, 0];
  for (let element = 0; element < ELEMENT_CLASSES; element++) {
    const share = element === ORDINARY_CLASSES ? resistant : (1 - resistant) * CLASS_SHARES[element];
    if (share === 0) continue;
    const total = after[element];
    if (total >= GONE_PROGRESS) continue;
    const place = (shape * Math.log(total) - SURVIVAL.from) * SURVIVAL.perUnit;
    if (!(place > 0)) {
      left += share;
      continue;
    }
    const step = Math.floor(place);
    if (step >= SURVIVAL_STEPS) continue;
    const part = place - step;
    left += share * (SURVIVALS[step] + part * (SURVIVALS[step + 1] - SURVIVALS[step]));
    const fall = FALLS[step] + part * (FALLS[step + 1] - FALLS[step]);
    slope -= share * shape * fall * (1 - before[element] / total);
  }
  end.share = Math.max(LEAST_SHARE, left);
  end.slope = slope;
}
