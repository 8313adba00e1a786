import type { ColourError } from '../../domain/index.ts';
import { ciede2000 } from './ciede2000.ts';
import type { Lab } from './cie-lab.ts';
import { CORRECTION_KINDS, applyCorrection, fitCorrection, plainBalance } from './correction-model.ts';
import type { CorrectionKind, CorrectionModel, KnownColour } from './correction-model.ts';
import { knownColour, linearOfLab } from './known-colour.ts';
import { linearSrgbToLabD50 } from './lab-d50.ts';
import { fitNeutralResponse, logOf, undoTone } from './neutral-response.ts';
import type { CardLight, GreySample, NeutralResponse } from './neutral-response.ts';
import type { PatchSample } from './sample-patches.ts';
import { fieldAt } from './smooth-field.ts';
import { srgbDecodeTable } from './srgb.ts';

/** Why a patch took no part. */
export type LeftOut = 'clipped' | 'uneven' | 'glare' | 'shadow or dirt';

/** How codes of one photo become true colours. */
export interface ColourNormalisation {
  readonly response: NeutralResponse | null;
  readonly model: CorrectionModel;
  /** CIEDE2000 on held-out patches; null without a usable card. */
  readonly heldOut: ColourError | null;
  /** The errors behind it, one per held-out patch. */
  readonly heldOutErrors: readonly number[];
  /** The same patches read as plain sRGB. */
  readonly untreated: ColourError | null;
  readonly leftOut: readonly { readonly id: string; readonly why: LeftOut }[];
}

/** How well patch values are known: printed to nominal values, or measured with an instrument. */
export type ValueOrigin = 'nominal' | 'measured';

/** Standard deviations of the print: greys as ln(reflectance), colours as CIEDE2000. Common practice for office printers. */
const GREY_SIGMA = { nominal: 0.04, measured: 0.012 } as const;
const COLOUR_SIGMA = { nominal: 4, measured: 1 } as const;
const GREY_COLOUR_SIGMA = { nominal: 1.5, measured: 0.8 } as const;

const MOST_CLIPPED_SHARE = 0.02;
const MOST_SCATTER = 0.12;
const FOLDS = 6;
/** A simpler map is kept unless the richer one is better by this factor on held-out patches. */
const SIMPLER_GAIN = 0.95;
/** A colour this far off, and this many times the median, is soiled or shaded. */
const OUTLIER_DELTA_E = 12;
const OUTLIER_FACTOR = 4;
const LEAST_PATCHES = 12;
const MISFIT_ROUNDS = 4;
/** Rms of the greys (logarithm) above which light is no plain gradient; in plain light it is 0.02 to 0.05. */
const UNEVEN_LIGHT = 0.07;
/** Light that is no gradient must lower the error of held-out patches to this part. */
const UNEVEN_GAIN = 0.85;

/** Codes read as plain sRGB: the answer without a card. */
export const PLAIN_SRGB: ColourNormalisation = {
  response: null,
  model: plainBalance(),
  heldOut: null,
  heldOutErrors: [],
  untreated: null,
  leftOut: [],
};

/**
 * Fits tone curve, balance, light over the card and the best of three colour maps, and says how well held-out patches are
 * met. Light is a gradient; only where greys stand off from that, and held-out patches gain clearly, may it vary freely, or be
 * mirrored in part.
 */
export function normaliseColour(samples: readonly PatchSample[], origin: ValueOrigin): ColourNormalisation {
  const plain = normaliseUnder(samples, origin, 'gradient');
  if (plain.response === null || !isUneven(plain.response)) return plain;
  const shaded = normaliseUnder(samples, origin, 'shade');
  const veiled = normaliseUnder(samples, origin, 'veil');
  const better = costOf(veiled) < costOf(shaded) ? veiled : shaded;
  return costOf(better) < UNEVEN_GAIN * costOf(plain) ? better : plain;
}

const isUneven = ({ residuals }: NeutralResponse): boolean =>
  Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / residuals.length) > UNEVEN_LIGHT;

/** Mean error of the patches; one that had to be left out counts as an outlier. */
function costOf({ heldOutErrors, leftOut }: ColourNormalisation): number {
  const missing = leftOut.filter(({ id }) => !id.startsWith('paper')).length;
  const sum = heldOutErrors.reduce((total, error) => total + Math.min(error, OUTLIER_DELTA_E), 0);
  return (sum + missing * OUTLIER_DELTA_E) / Math.max(1, heldOutErrors.length + missing);
}

function normaliseUnder(samples: readonly PatchSample[], origin: ValueOrigin, light: CardLight): ColourNormalisation {
  const leftOut: { id: string; why: LeftOut }[] = [];
  const readable = samples.filter((sample) => {
    const why = unreadable(sample);
    if (why !== null) leftOut.push({ id: sample.id, why });
    return why === null;
  });
  const terms: FitTerms = { origin, light };
  const fitting = findMisfits(readable, terms);
  if (fitting === null) return { ...PLAIN_SRGB, leftOut };
  leftOut.push(...fitting.leftOut);
  const { kept } = fitting;
  const errors = crossValidate(kept, terms);
  const kind = chooseKind(errors);
  const stage = fitStage(kept, kind, terms);
  if (stage === null) return { ...PLAIN_SRGB, leftOut };
  return {
    response: stage.response,
    model: stage.model,
    heldOut: summarise(errors[kind]),
    heldOutErrors: errors[kind],
    untreated: summarise(kept.filter(isPatch).map((s) => ciede2000(labOf(s.decoded), s.lab))),
    leftOut,
  };
}

interface FitTerms {
  readonly origin: ValueOrigin;
  readonly light: CardLight;
}

/** Tables from code to balanced scene light, one per channel (maxCode + 1 entries). */
export function responseTables(
  normalisation: ColourNormalisation,
  maxCode: 255 | 65535,
): readonly [Float32Array, Float32Array, Float32Array] {
  const decode = srgbDecodeTable(maxCode);
  const { response } = normalisation;
  if (response === null) return [decode, decode, decode];
  const light = decode.map((value, code) =>
    Math.exp(undoTone(response.toneCorrection, Math.log(code === 0 ? decode[1] / 2 : value))),
  );
  const table = (channel: 0 | 1 | 2): Float32Array => {
    const gain = Math.exp(-response.logGain[channel]);
    return light.map((value) => value * gain);
  };
  return [table(0), table(1), table(2)];
}

interface Stage {
  readonly response: NeutralResponse;
  readonly model: CorrectionModel;
}

const isPatch = (sample: PatchSample): boolean => sample.family !== 'paper';
const isGrey = (sample: PatchSample): boolean => sample.family === 'paper' || sample.family === 'neutral';

function unreadable(sample: PatchSample): LeftOut | null {
  if (sample.clippedShare > MOST_CLIPPED_SHARE) return 'clipped';
  const reflectance = linearOfLab(sample.lab)[1];
  return sample.scatter > MOST_SCATTER + 0.02 / Math.max(reflectance, 0.01) ? 'uneven' : null;
}

function fitStage(samples: readonly PatchSample[], kind: CorrectionKind, terms: FitTerms): Stage | null {
  const seen = seeColours(samples, terms);
  return seen === null ? null : mapColours(seen, kind);
}

/** Colours as the greys' light shows them, before any map. */
interface SeenColours {
  readonly response: NeutralResponse;
  readonly colours: readonly KnownColour[];
}

function seeColours(samples: readonly PatchSample[], { origin, light }: FitTerms): SeenColours | null {
  const greys = samples.filter(isGrey);
  const response = fitNeutralResponse(
    greys.map((sample) => greySample(sample, origin)),
    light,
  );
  if (response === null || samples.length < LEAST_PATCHES) return null;
  const colours = samples
    .filter((sample) => !response.outliers.has(greys.indexOf(sample)))
    .map((sample) => toKnownColour(sample, response, origin));
  return { response, colours };
}

function mapColours({ response, colours }: SeenColours, kind: CorrectionKind): Stage | null {
  const model = fitCorrection(kind, colours);
  return model === null ? null : { response, model };
}

const greySample = (sample: PatchSample, origin: ValueOrigin): GreySample => ({
  centreMm: sample.centreMm,
  decoded: sample.decoded,
  reflectance: linearOfLab(sample.lab),
  sigma: GREY_SIGMA[origin],
});

function toKnownColour(sample: PatchSample, response: NeutralResponse, origin: ValueOrigin): KnownColour {
  const sigma = isGrey(sample) ? GREY_COLOUR_SIGMA[origin] : COLOUR_SIGMA[origin];
  return knownColour(balance(sample, response), sample.lab, sigma);
}

/** Tone curve undone, channel gains and the light at the patch taken out. */
function balance(sample: PatchSample, response: NeutralResponse): [number, number, number] {
  const { logLightPerMm, centreMm, logGain, toneCorrection, shade, veil } = response;
  const light =
    logLightPerMm[0] * (sample.centreMm[0] - centreMm[0]) +
    logLightPerMm[1] * (sample.centreMm[1] - centreMm[1]) +
    (shade === null ? 0 : fieldAt(shade, sample.centreMm));
  const mirrored = veil === null ? 0 : fieldAt(veil, sample.centreMm);
  const channel = (k: 0 | 1 | 2): number =>
    Math.max(0, Math.exp(undoTone(toneCorrection, logOf(sample.decoded[k])) - logGain[k] - light) - mirrored);
  return [channel(0), channel(1), channel(2)];
}

function labOf(linear: readonly [number, number, number]): Lab {
  const out: [number, number, number] = [0, 0, 0];
  linearSrgbToLabD50(linear[0], linear[1], linear[2], out);
  return { L: out[0], a: out[1], b: out[2] };
}

function correctedLab(sample: PatchSample, stage: Stage): Lab {
  const out = new Float64Array(3);
  applyCorrection(stage.model, balance(sample, stage.response), new Float64Array(6), out);
  return labOf([out[0], out[1], out[2]]);
}

interface Fitting {
  readonly kept: readonly PatchSample[];
  readonly leftOut: readonly { readonly id: string; readonly why: LeftOut }[];
}

/**
 * Leaves out what does not fit and looks again at all without it: a glared patch bends the first fit so much that sound ones
 * stand off with it, and they come back.
 */
function findMisfits(readable: readonly PatchSample[], terms: FitTerms): Fitting | null {
  let kept = readable;
  let leftOut: { id: string; why: LeftOut }[] = [];
  for (let round = 0; round < MISFIT_ROUNDS; round++) {
    const stage = fitStage(kept, 'linear', terms);
    if (stage === null) return null;
    const corrected = readable.map((sample) => correctedLab(sample, stage));
    const errors = readable.map((sample, i) => ciede2000(corrected[i], sample.lab));
    const median = [...errors].sort((a, b) => a - b)[Math.floor(errors.length / 2)];
    const limit = Math.max(OUTLIER_DELTA_E, OUTLIER_FACTOR * median);
    const found = readable.flatMap((sample, i) => {
      if (errors[i] <= limit) return [];
      const why: LeftOut = corrected[i].L > sample.lab.L ? 'glare' : 'shadow or dirt';
      return [{ sample, id: sample.id, why }];
    });
    const isSettled = found.length === leftOut.length && found.every(({ id }, i) => id === leftOut[i].id);
    if (isSettled) break;
    leftOut = found.map(({ id, why }) => ({ id, why }));
    const misfits = new Set(found.map(({ sample }) => sample));
    kept = readable.filter((sample) => !misfits.has(sample));
  }
  return { kept, leftOut };
}

/** CIEDE2000 of every patch when it took no part in any of the fits; the bare paper takes part in all. */
function crossValidate(samples: readonly PatchSample[], terms: FitTerms): Record<CorrectionKind, number[]> {
  const patches = samples.filter(isPatch);
  const errors: Record<CorrectionKind, number[]> = { balance: [], linear: [], 'root-polynomial': [] };
  for (let fold = 0; fold < FOLDS; fold++) {
    const heldOut = new Set(patches.filter((_, i) => i % FOLDS === fold));
    const training = samples.filter((sample) => !heldOut.has(sample));
    const seen = seeColours(training, terms);
    if (seen === null) continue;
    for (const kind of CORRECTION_KINDS) {
      const stage = mapColours(seen, kind);
      if (stage === null) continue;
      for (const sample of heldOut) errors[kind].push(ciede2000(correctedLab(sample, stage), sample.lab));
    }
  }
  return errors;
}

function chooseKind(errors: Record<CorrectionKind, number[]>): CorrectionKind {
  const mean = (kind: CorrectionKind): number =>
    errors[kind].length === 0 ? Infinity : errors[kind].reduce((sum, e) => sum + e, 0) / errors[kind].length;
  let chosen: CorrectionKind = 'balance';
  for (const kind of CORRECTION_KINDS) if (mean(kind) < SIMPLER_GAIN * mean(chosen)) chosen = kind;
  return chosen;
}

function summarise(errors: readonly number[]): ColourError | null {
  if (errors.length === 0) return null;
  const sorted = [...errors].sort((a, b) => a - b);
  const quantile = (q: number): number => sorted[Math.min(sorted.length - 1, Math.ceil(q * sorted.length) - 1)];
  return { median: quantile(0.5), p95: quantile(0.95), max: sorted[sorted.length - 1] };
}
