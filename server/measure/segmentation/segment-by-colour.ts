import { CLASS_CODE, SURFACE_CLASSES } from '../../domain/index.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import { usableMask } from '../raster/usable-mask.ts';
import { NO_OFFSET, addBlockEvidence, addPixelEvidence, blockOf, logGrainOf } from './add-evidence.ts';
import type { LabOffset } from './add-evidence.ts';
import { refineEvidence } from './colour-evidence.ts';
import type { ColourEvidence } from './colour-evidence.ts';
import { blockFeatures, colourFeatures } from './colour-features.ts';
import type { ColourFeatures } from './colour-features.ts';
import { COLOUR_EVIDENCE } from './colour-evidence-tables.ts';
import { findUnmeasured } from './find-unmeasured.ts';
import type { ClassProbabilities, Segmentation, SegmentedView } from './segmentation.ts';

const CLASSES = 5;
const RUST = CLASS_CODE.rust - 1;

/** Bare lightness is taken from the zone itself when at least this share of it looks bare; else this L* stands in. */
const LEAST_BARE_SHARE = 0.03;
const USUAL_BARE_LIGHTNESS = 60;
/** Pixels looked at to find the zone's bare lightness and the effect of a colour error. */
const PROBES = 20_000;
/** For the bare lightness alone fewer will do. */
const BLOCK_PROBES = 5000;

/** Standard deviations of L, a, b that stay after correction, per unit of median held-out CIEDE2000, and without a card. */
const SIGMA_PER_DELTA_E: LabOffset = [0.8, 0.5, 0.7];
const SIGMA_WITHOUT_CARD: LabOffset = [8, 3, 6];
/** The segmenter's own share error: a part of what it doubts, and a floor. Chosen so that tests/accuracy covers 95 %. */
const DOUBT_PART = 0.35;
const SIGMA_FLOOR = 0.003;
/** Evidence this far below the best is no probability worth an exponential. */
const NEGLIGIBLE = 7;

interface Reading {
  readonly evidence: ColourEvidence;
  readonly features: ColourFeatures;
}

let refined: ColourEvidence | null = null;
const refinedEvidence = (): ColourEvidence => (refined ??= refineEvidence(COLOUR_EVIDENCE));

/**
 * The explainable segmenter: evidence for each class from five tables (colour, colour of the surroundings, grain, mottling,
 * lightness against the zone's own bare steel) is added up; the sum is the log odds. The tables are fitted by
 * models/train/colour-evidence and can be read entry by entry.
 */
export function segmentByColour(view: SegmentedView): Segmentation {
  const looked = lookByColour(view);
  return {
    segmenter: 'colour 1',
    codes: looked.codes,
    probabilities: looked.probabilities,
    underDwell: null,
    blocked: looked.blocked,
    doubtful: null,
    shareSigma: shareSigmas(view, looked.reading, looked.probes, looked.bareLightness),
  };
}

/** Classes of square blocks of `side` px; 0 where nothing is told. */
export interface BlockCodes {
  readonly codes: ByteMask;
  readonly side: number;
}

/**
 * What `segmentByColour` tells of blocks of about 1 mm. Blocks are looked at as the black fields of a chessboard are, and
 * the white ones take what their left neighbour was told, or the right one.
 */
export function blockCodesByColour(view: SegmentedView): BlockCodes {
  const { features, side, filled } = blockFeatures(view.lab, usableMask(view.zone, view.blocked), view.grid);
  const { width, height } = filled;
  const looked = blackFields(filled);
  const blocked = findUnmeasured(features, features, looked, byteMask(width, height));
  const reading = { evidence: refinedEvidence(), features };
  const bareLightness = findBareLightness(reading, probePixels(looked, blocked, BLOCK_PROBES));
  const codes = byteMask(width, height);
  const readEvidence = evidenceReader(reading, { bareLightness, offset: NO_OFFSET });
  const out = new Float64Array(CLASSES);
  for (let block = 0; block < codes.values.length; block++) {
    if (looked.values[block] === 0 || blocked.values[block] !== 0) continue;
    readEvidence(block, out);
    let best = 0;
    for (let c = 1; c < CLASSES; c++) if (out[c] > out[best]) best = c;
    codes.values[block] = best + 1;
  }
  for (let block = 0; block < codes.values.length; block++) {
    if (filled.values[block] === 0 || looked.values[block] !== 0) continue;
    const column = block % width;
    const left = column > 0 ? codes.values[block - 1] : 0;
    codes.values[block] = left === 0 && column + 1 < width ? codes.values[block + 1] : left;
  }
  return { codes, side };
}

function blackFields({ width, height, values }: ByteMask): ByteMask {
  const black = byteMask(width, height);
  for (let row = 0; row < height; row++) {
    for (let column = row & 1; column < width; column += 2) {
      black.values[row * width + column] = values[row * width + column];
    }
  }
  return black;
}

interface ColourLook {
  readonly reading: Reading;
  readonly probes: readonly number[];
  readonly bareLightness: number;
  readonly blocked: ByteMask;
  readonly codes: ByteMask;
  readonly probabilities: ClassProbabilities;
}

function lookByColour(view: SegmentedView): ColourLook {
  const { lab, zone } = view;
  const features = colourFeatures(lab, usableMask(zone, view.blocked), view.grid);
  const blocked = findUnmeasured(lab, features, zone, view.blocked);
  const reading = { evidence: refinedEvidence(), features };
  const probes = probePixels(zone, blocked, PROBES);
  const bareLightness = findBareLightness(reading, probes);
  return { reading, probes, bareLightness, blocked, ...classify(zone, blocked, reading, bareLightness) };
}

/** Evenly spread measured pixels. */
function probePixels(zone: ByteMask, blocked: ByteMask, most: number): number[] {
  const probes: number[] = [];
  // A stride that shares no factor with usual widths walks over all columns.
  const stride = Math.max(1, Math.floor(zone.values.length / most)) | 1;
  for (let i = 0; i < zone.values.length; i += stride) {
    if (zone.values[i] !== 0 && blocked.values[i] === 0) probes.push(i);
  }
  return probes;
}

interface Trial {
  readonly bareLightness: number | null;
  readonly offset: LabOffset;
}

type PixelReader = (index: number, out: Float64Array) => void;

/** Reads log odds of one pixel from all tables. Where it looks is one object for all pixels: new ones cost more than looking. */
function evidenceReader({ evidence, features }: Reading, trial: Trial): PixelReader {
  const at = { index: 0, block: 0, logGrain: 0, ...trial };
  return (index, out) => {
    at.index = index;
    at.block = blockOf(features, index);
    at.logGrain = logGrainOf(features, at.block);
    out.fill(0);
    addBlockEvidence(evidence, features, at, out);
    addPixelEvidence(evidence, features, at, out);
  };
}

/** Reads the probabilities of one pixel. */
function probabilityReader(reading: Reading, trial: Trial): PixelReader {
  const readEvidence = evidenceReader(reading, trial);
  return (index, out) => {
    readEvidence(index, out);
    softmax(out);
  };
}

function softmax(logOdds: Float64Array): void {
  let best = logOdds[0];
  for (let c = 1; c < CLASSES; c++) if (logOdds[c] > best) best = logOdds[c];
  let sum = 0;
  for (let c = 0; c < CLASSES; c++) {
    const below = best - logOdds[c];
    const value = below > NEGLIGIBLE ? 0 : Math.exp(-below);
    logOdds[c] = value;
    sum += value;
  }
  for (let c = 0; c < CLASSES; c++) logOdds[c] /= sum;
}

/** Median lightness of what looks bare without knowing the zone's bare lightness. */
function findBareLightness(reading: Reading, probes: readonly number[]): number {
  const out = new Float64Array(CLASSES);
  const readProbabilities = probabilityReader(reading, { bareLightness: null, offset: NO_OFFSET });
  const seen: { L: number; weight: number }[] = [];
  let total = 0;
  for (const index of probes) {
    readProbabilities(index, out);
    total += out[0];
    seen.push({ L: reading.features.L.values[index], weight: out[0] });
  }
  if (total < LEAST_BARE_SHARE * probes.length || total === 0) return USUAL_BARE_LIGHTNESS;
  seen.sort((x, y) => x.L - y.L);
  let sum = 0;
  return seen.find(({ weight }) => (sum += weight) >= total / 2)?.L ?? USUAL_BARE_LIGHTNESS;
}

function classify(
  zone: ByteMask,
  blocked: ByteMask,
  { evidence, features }: Reading,
  bareLightness: number,
): { codes: ByteMask; probabilities: ClassProbabilities } {
  const { width, height } = zone;
  const codes = byteMask(width, height);
  const layer = (): Uint8Array => new Uint8Array(width * height);
  const probabilities: ClassProbabilities = [layer(), layer(), layer(), layer(), layer()];
  const out = new Float64Array(CLASSES);
  const across = features.aroundL.width;
  const slow = new Float64Array(across * CLASSES);
  const logGrains = new Float64Array(across);
  const at = { index: 0, block: 0, offset: NO_OFFSET, logGrain: 0, bareLightness };
  for (let row = 0, index = 0; row < height; row++) {
    const firstBlock = Math.floor(row / features.block) * across;
    if (row % features.block === 0) readBlockRow({ evidence, features }, firstBlock, slow, logGrains);
    for (let column = 0; column < width; column++, index++) {
      if (zone.values[index] === 0 || blocked.values[index] !== 0) continue;
      const block = (column / features.block) | 0;
      for (let c = 0; c < CLASSES; c++) out[c] = slow[block * CLASSES + c];
      at.index = index;
      at.block = firstBlock + block;
      at.logGrain = logGrains[block];
      addPixelEvidence(evidence, features, at, out);
      softmax(out);
      let best = 0;
      for (let c = 0; c < CLASSES; c++) {
        probabilities[c][index] = 255 * out[c] + 0.5;
        if (out[c] > out[best]) best = c;
      }
      codes.values[index] = best + 1;
    }
  }
  return { codes, probabilities };
}

/** Evidence that is the same for all pixels of a block, for one row of blocks. */
function readBlockRow(
  { evidence, features }: Reading,
  firstBlock: number,
  slow: Float64Array,
  logGrains: Float64Array,
): void {
  slow.fill(0);
  for (let k = 0; k < logGrains.length; k++) {
    const block = firstBlock + k;
    const out = slow.subarray(k * CLASSES, (k + 1) * CLASSES);
    addBlockEvidence(evidence, features, { block, offset: NO_OFFSET }, out);
    logGrains[k] = logGrainOf(features, block);
  }
}

/**
 * How far the shares may be off as a whole: tried with the colours shifted by one standard deviation each way in L, a and
 * b, plus a part of what the segmenter doubts.
 */
function shareSigmas(
  view: SegmentedView,
  reading: Reading,
  probes: readonly number[],
  bareLightness: number,
): Segmentation['shareSigma'] {
  const error = view.normalisation.heldOut?.median ?? null;
  const sigma = (k: 0 | 1 | 2): number =>
    error === null ? SIGMA_WITHOUT_CARD[k] : SIGMA_PER_DELTA_E[k] * Math.max(1, error);
  const plain = probeShares(reading, probes, { bareLightness, offset: NO_OFFSET });
  const variances = new Float64Array(CLASSES + 1);
  for (const axis of [0, 1, 2] as const) {
    const shifted = ([-1, 1] as const).map((sign) => {
      const offset: [number, number, number] = [0, 0, 0];
      offset[axis] = sign * sigma(axis);
      // Bare steel shifts with the rest.
      return probeShares(reading, probes, { bareLightness: bareLightness + offset[0], offset }).shares;
    });
    for (let k = 0; k <= CLASSES; k++) variances[k] += ((shifted[1][k] - shifted[0][k]) / 2) ** 2;
  }
  const total = (k: number): number => Math.hypot(Math.sqrt(variances[k]), DOUBT_PART * plain.doubts[k], SIGMA_FLOOR);
  const [bare, stain, rust, scale, coating] = SURFACE_CLASSES.map((_, k) => total(k));
  return { bare, stain, rust, scale, coating, residue: total(CLASSES) };
}

/** Shares and mean doubts (p for pixels of another class, 1 - p for its own) of the five classes and of residue. */
function probeShares(
  reading: Reading,
  probes: readonly number[],
  trial: { readonly bareLightness: number; readonly offset: LabOffset },
): { shares: Float64Array; doubts: Float64Array } {
  const shares = new Float64Array(CLASSES + 1);
  const doubts = new Float64Array(CLASSES + 1);
  const readProbabilities = probabilityReader(reading, trial);
  const out = new Float64Array(CLASSES);
  for (const index of probes) {
    readProbabilities(index, out);
    let best = 0;
    let residue = 0;
    for (let c = 0; c < CLASSES; c++) {
      if (out[c] > out[best]) best = c;
      if (c >= RUST) residue += out[c];
    }
    shares[best]++;
    if (best >= RUST) shares[CLASSES]++;
    for (let c = 0; c < CLASSES; c++) doubts[c] += c === best ? 1 - out[c] : out[c];
    doubts[CLASSES] += best >= RUST ? 1 - residue : residue;
  }
  const count = Math.max(1, probes.length);
  return { shares: shares.map((n) => n / count), doubts: doubts.map((n) => n / count) };
}
