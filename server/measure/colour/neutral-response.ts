import { solveSymmetric } from '../geometry/solve-symmetric.ts';
import { FIELD_NODES, FIELD_PAIRS, eachFieldNode, fieldAt, fieldBox } from './smooth-field.ts';
import type { FieldBox, SmoothField } from './smooth-field.ts';

/** A grey of known reflectance as the photo shows it. */
export interface GreySample {
  readonly centreMm: readonly [x: number, y: number];
  /** sRGB-decoded codes, 0..1 per channel. */
  readonly decoded: readonly [number, number, number];
  /** True reflectance per channel: linear sRGB of its known colour. */
  readonly reflectance: readonly [number, number, number];
  /** Standard deviation of the logarithm of the reflectance: how well the print is known. */
  readonly sigma: number;
}

/**
 * How the photo turns neutral reflectance into decoded codes: one monotone tone curve shared by the channels, one gain per
 * channel (white balance and exposure), and light that varies linearly over the card, or in any smooth way on top of that, or
 * that a glossy print mirrors on top of what it gives back.
 */
export interface NeutralResponse {
  /** Correction h of the tone curve at the knots: ln(scene light) = l + h(l), l = ln(decoded code). */
  readonly toneCorrection: Float64Array;
  /** Logarithm of the gain of each channel. */
  readonly logGain: readonly [number, number, number];
  /** Gradient of the logarithm of the light, per mm along x and y, zero at `centreMm`. */
  readonly logLightPerMm: readonly [number, number];
  readonly centreMm: readonly [number, number];
  /** What varies on top of the gradient; null where the gradient is all. */
  readonly shade: SmoothField | null;
  /** Mirrored light on the card, as reflectance on top of the true one in each channel; null where there is none. */
  readonly veil: SmoothField | null;
  /** Per sample, in the order given: logarithm of seen over expected, mean of the channels. */
  readonly residuals: Float64Array;
  /** Samples that do not fit: shadowed, glared, soiled. They took no part. */
  readonly outliers: ReadonlySet<number>;
}

/** Knots of the tone curve in ln(decoded code), from code 1 (of 255) to white; the curve is straight in between. */
const FIRST_KNOT = -5.6;
const KNOT_STEP = 0.56;
const KNOTS = 11;
/** The knot where the correction is 0 by definition (mid grey, -1.68): its level is the gain's. */
const ANCHOR = 7;
/** Penalties: bending per knot, and slope away from the plain sRGB curve. Tone curves of phones bend by about 0.1-0.3. */
const BEND_SIGMA = 0.06;
const SLOPE_SIGMA = 0.2;
/** Least slope of ln(light) over ln(code): the curve stays monotone. */
const LEAST_SLOPE = 0.25;
/** Expected change of the logarithm of light over the card's 152 mm: 0.25. */
const LIGHT_SIGMA_PER_MM = 0.25 / 152;
/** Expected change between neighbouring nodes, and of all of it: of a shade as logarithm of light, of a veil as reflectance. */
const FIELD_SIGMA = { shade: { step: 0.2, all: 1 }, veil: { step: 0.04, all: 0.12 } } as const;
/** Flare and noise blur the darkest greys: relative error grows as reflectance falls. */
const DARK_SIGMA = 0.004;
const OUTLIER_SIGMAS = 4;
const LEAST_OUTLIER = 0.12;
const ROUNDS = 6;
/** Soft rounds come first: a shadow over a tenth of the card would else bend the fit until it no longer stands out. */
const SOFT_ROUNDS = 12;
/** In soft rounds a sample this many standard deviations off counts for half. */
const SOFT_SIGMAS = 1.5;
const LEAST_SAMPLES = 5;

const UNKNOWNS = KNOTS - 1 + 3 + 2;

/**
 * Fits tone curve, gains and light gradient together by penalised least squares on logarithms, leaving out samples that
 * stand far off (shadow, glare). Linear in all unknowns but mirrored light, so the answer without it is unique.
 *
 * @param light what is allowed on top of the gradient
 * @returns null for fewer than five usable greys
 */
export function fitNeutralResponse(
  samples: readonly GreySample[],
  light: CardLight = 'gradient',
): NeutralResponse | null {
  if (samples.length < LEAST_SAMPLES) return null;
  const centreMm = middle(samples);
  const place: CardPlace = {
    centre: centreMm,
    field: light === 'gradient' ? null : { kind: light, box: fieldBox(samples.map((s) => s.centreMm)) },
  };
  const outliers = new Set<number>();
  const soft = softFit(samples, place);
  if (soft === null) return null;
  let { residuals } = soft;
  let unknowns: Float64Array | null = soft.unknowns;
  updateOutliers(samples, residuals, outliers);
  for (let round = 0; round < ROUNDS; round++) {
    if (samples.length - outliers.size < LEAST_SAMPLES) return null;
    unknowns = solve(samples, place, {
      weights: Float64Array.from(samples, (_, i) => (outliers.has(i) ? 0 : 1)),
      before: unknowns,
    });
    if (unknowns === null) return null;
    residuals = residualsOf(samples, place, unknowns);
    if (!updateOutliers(samples, residuals, outliers)) break;
  }
  const { field } = place;
  const smooth = field === null ? null : { box: field.box, nodes: unknowns.slice(UNKNOWNS) };
  return {
    toneCorrection: monotone(knotValues(unknowns)),
    logGain: [unknowns[KNOTS - 1], unknowns[KNOTS], unknowns[KNOTS + 1]],
    logLightPerMm: [unknowns[KNOTS + 2], unknowns[KNOTS + 3]],
    centreMm,
    shade: field?.kind === 'shade' ? smooth : null,
    veil: field?.kind === 'veil' ? smooth : null,
    residuals,
    outliers,
  };
}

/** Light over the card: a linear gradient; any smooth change on top of it; or mirrored light on top of what the print gives back. */
export type CardLight = 'gradient' | 'shade' | 'veil';

/** Where light varies about, and what may vary freely over which part of the card. */
interface CardPlace {
  readonly centre: readonly [number, number];
  readonly field: { readonly kind: 'shade' | 'veil'; readonly box: FieldBox } | null;
}

const unknownsOf = (place: CardPlace): number => UNKNOWNS + (place.field === null ? 0 : FIELD_NODES);

/** Mirrored light at a sample, as reflectance. */
function veilAt({ field }: CardPlace, unknowns: Float64Array | null, { centreMm }: GreySample): number {
  if (field?.kind !== 'veil' || unknowns === null) return 0;
  return fieldAt({ box: field.box, nodes: unknowns.subarray(UNKNOWNS) }, centreMm);
}

/** A fit in which samples count the less the further they lie off (Cauchy weights, from straight ones). */
function softFit(samples: readonly GreySample[], place: CardPlace): Fit | null {
  let weights: Float64Array = new Float64Array(samples.length).fill(1);
  let fit: Fit | null = null;
  for (let round = 0; round < SOFT_ROUNDS; round++) {
    const unknowns = solve(samples, place, { weights, before: fit?.unknowns ?? null });
    if (unknowns === null) return null;
    const residuals = residualsOf(samples, place, unknowns);
    weights = residuals.map((r, i) => 1 / (1 + (r / (SOFT_SIGMAS * sigmaOf(samples[i], 1))) ** 2));
    fit = { unknowns, residuals };
  }
  return fit;
}

interface Fit {
  readonly unknowns: Float64Array;
  readonly residuals: Float64Array;
}

/** ln(scene light) up to the gain, from ln(decoded code); beyond the knots the end slopes go on. */
export function undoTone(correction: Float64Array, logDecoded: number): number {
  const at = (logDecoded - FIRST_KNOT) / KNOT_STEP;
  const k = Math.min(Math.max(Math.floor(at), 0), KNOTS - 2);
  const part = Math.max(at - k, k === 0 ? -1 : 0);
  return logDecoded + correction[k] + part * (correction[k + 1] - correction[k]);
}

function middle(samples: readonly GreySample[]): [number, number] {
  const mean = (k: 0 | 1): number => samples.reduce((sum, s) => sum + s.centreMm[k], 0) / samples.length;
  return [mean(0), mean(1)];
}

/** Below this nothing is told apart. */
const DARKEST = 1e-4;
/** Logarithm of linear light, 0..1. */
export const logOf = (value: number): number => Math.log(Math.max(value, DARKEST));
const printed = ({ reflectance }: GreySample, channel: number): number => Math.max(reflectance[channel], DARKEST);

/** Row of the design matrix for one sample and channel, but for mirrored light. */
function designRow(row: Float64Array, sample: GreySample, channel: number, { centre, field }: CardPlace): void {
  row.fill(0);
  const at = (logOf(sample.decoded[channel]) - FIRST_KNOT) / KNOT_STEP;
  const k = Math.min(Math.max(Math.floor(at), 0), KNOTS - 2);
  const part = Math.min(Math.max(at - k, 0), 1);
  if (k !== ANCHOR) row[k < ANCHOR ? k : k - 1] += 1 - part;
  if (k + 1 !== ANCHOR) row[k + 1 < ANCHOR ? k + 1 : k] += part;
  row[KNOTS - 1 + channel] = -1;
  row[KNOTS + 2] = -(sample.centreMm[0] - centre[0]);
  row[KNOTS + 3] = -(sample.centreMm[1] - centre[1]);
  if (field?.kind !== 'shade') return;
  eachFieldNode(field.box, sample.centreMm, (node, weight) => {
    row[UNKNOWNS + node] = -weight;
  });
}

const sigmaOf = (sample: GreySample, channel: number): number =>
  Math.hypot(sample.sigma, DARK_SIGMA / Math.max(sample.reflectance[channel], 0.005));

/** Mirrored light is no straight term: it is taken about that of the fit before, which rounds of fits bring to rest. */
function solve(
  samples: readonly GreySample[],
  place: CardPlace,
  { weights, before }: { weights: Float64Array; before: Float64Array | null },
): Float64Array | null {
  const count = unknownsOf(place);
  const normal = new Float64Array(count * count);
  const right = new Float64Array(count);
  const row = new Float64Array(count);
  const filled = new Uint8Array(count);
  const add = (value: number, sigma: number): void => {
    const weight = 1 / (sigma * sigma);
    let used = 0;
    for (let i = 0; i < count; i++) if (row[i] !== 0) filled[used++] = i;
    for (let m = 0; m < used; m++) {
      const i = filled[m];
      right[i] += weight * row[i] * value;
      for (let n = 0; n < used; n++) normal[i * count + filled[n]] += weight * row[i] * row[filled[n]];
    }
  };
  samples.forEach((sample, index) => {
    if (weights[index] === 0) return;
    const veil = veilAt(place, before, sample);
    for (let channel = 0; channel < 3; channel++) {
      designRow(row, sample, channel, place);
      const seen = printed(sample, channel) + veil;
      if (place.field?.kind === 'veil') {
        eachFieldNode(place.field.box, sample.centreMm, (node, weight) => {
          row[UNKNOWNS + node] = -weight / seen;
        });
      }
      add(
        logOf(seen) - veil / seen - logOf(sample.decoded[channel]),
        sigmaOf(sample, channel) / Math.sqrt(weights[index]),
      );
    }
  });
  addPenalties(row, add);
  if (place.field !== null) addFieldPenalties(row, FIELD_SIGMA[place.field.kind], add);
  const unknowns = solveSymmetric(normal, right, count);
  // There is no less than no mirrored light.
  if (place.field?.kind === 'veil') unknowns?.forEach((u, i) => (unknowns[i] = i < UNKNOWNS ? u : Math.max(0, u)));
  return unknowns;
}

function addPenalties(row: Float64Array, add: (value: number, sigma: number) => void): void {
  const put = (knot: number, value: number): void => {
    if (knot !== ANCHOR) row[knot < ANCHOR ? knot : knot - 1] += value;
  };
  for (let k = 0; k + 1 < KNOTS; k++) {
    row.fill(0);
    put(k, -1);
    put(k + 1, 1);
    add(0, SLOPE_SIGMA);
    if (k === 0) continue;
    row.fill(0);
    put(k - 1, 1);
    put(k, -2);
    put(k + 1, 1);
    add(0, BEND_SIGMA);
  }
  for (const k of [KNOTS + 2, KNOTS + 3]) {
    row.fill(0);
    row[k] = 1;
    add(0, LIGHT_SIGMA_PER_MM);
  }
}

/** Neighbours are alike; and a field is a change about the gain or the print, of which without this it could take any part. */
function addFieldPenalties(
  row: Float64Array,
  sigma: { readonly step: number; readonly all: number },
  add: (value: number, sigma: number) => void,
): void {
  for (const [a, b] of FIELD_PAIRS) {
    row.fill(0);
    row[UNKNOWNS + a] = 1;
    row[UNKNOWNS + b] = -1;
    add(0, sigma.step);
  }
  for (let node = 0; node < FIELD_NODES; node++) {
    row.fill(0);
    row[UNKNOWNS + node] = 1;
    add(0, sigma.all);
  }
}

function residualsOf(samples: readonly GreySample[], place: CardPlace, unknowns: Float64Array): Float64Array {
  const row = new Float64Array(unknowns.length);
  return Float64Array.from(samples, (sample) => {
    const veil = veilAt(place, unknowns, sample);
    let sum = 0;
    for (let channel = 0; channel < 3; channel++) {
      designRow(row, sample, channel, place);
      const predicted = row.reduce((total, value, i) => total + value * unknowns[i], 0);
      sum += predicted - logOf(printed(sample, channel) + veil) + logOf(sample.decoded[channel]);
    }
    return sum / 3;
  });
}

/** Marks what stands off by more than its own error and the scatter of the rest; true when the set changed. */
function updateOutliers(samples: readonly GreySample[], residuals: Float64Array, outliers: Set<number>): boolean {
  const scaled = residuals.map((r, i) => Math.abs(r) / sigmaOf(samples[i], 1));
  const sorted = Float64Array.from(scaled).sort();
  const scale = Math.max(1, sorted[Math.floor(sorted.length / 2)] * 1.4826);
  let changed = false;
  samples.forEach((_, i) => {
    const isOutlier = scaled[i] > OUTLIER_SIGMAS * scale && Math.abs(residuals[i]) > LEAST_OUTLIER;
    if (isOutlier === outliers.has(i)) return;
    changed = true;
    if (isOutlier) outliers.add(i);
    else outliers.delete(i);
  });
  return changed;
}

function knotValues(unknowns: Float64Array): Float64Array {
  return Float64Array.from({ length: KNOTS }, (_, k) => (k === ANCHOR ? 0 : unknowns[k < ANCHOR ? k : k - 1]));
}

/** Lifts slopes that are too small, from the anchor outwards. */
function monotone(correction: Float64Array): Float64Array {
  const least = (LEAST_SLOPE - 1) * KNOT_STEP;
  const fixed = Float64Array.from(correction);
  for (let k = ANCHOR; k + 1 < KNOTS; k++) fixed[k + 1] = Math.max(fixed[k + 1], fixed[k] + least);
  for (let k = ANCHOR; k > 0; k--) fixed[k - 1] = Math.min(fixed[k - 1], fixed[k] - least);
  return fixed;
}
