import { CLASS_CODE, SURFACE_CLASSES, success } from '../../domain/index.ts';
import { BLOCKED } from '../geometry/rectify-photo.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import { wholeTile } from './class-network.ts';
import type { ClassNetwork, LogitTile, NetworkScale } from './class-network.ts';
import { doubtfulArea } from './cross-check.ts';
import { BRIGHTER_THAN_PAPER } from './find-unmeasured.ts';
import { blockCodesByColour } from './segment-by-colour.ts';
import type { BlockCodes } from './segment-by-colour.ts';
import { RESIDUE_PLANES } from './segmentation.ts';
import type { Segmentation, SegmentedView, Segmenter } from './segmentation.ts';
import { classifyAtUnknownScale } from './unknown-scale.ts';

const CLASSES = 5;
/**
 * The network was trained with this weight on stain, which is rare and faint, and so holds it for that much likelier than it is.
 * Against residue that is undone: else films at their rims are called stain. Between stain and bare steel it stays: without it
 * half of the stain is missed, and with it not more is told than is there.
 * On 225 zones drawn afterwards the residue error falls from 0.041 to 0.033 (95 %), its bias over all but the four worst from
 * -0.0054 to -0.0015, and the error of the stain share stays (0.027 and 0.026 on the mean).
 * Source: a weighted cross-entropy is least where odds are those of the prior times the weight.
 */
const STAIN_WEIGHT = 2;
const STAIN_ODDS = Math.log(STAIN_WEIGHT);
/**
 * Odds from which a pixel is residue, of whichever kind: where rust, scale and coating together are so likely, that none of them is
 * likelier than bare steel does not make it clean. A little below even, which takes out the bias that even odds leave (-0.0024).
 * On 732 zones that took no part in training, against taking the likeliest of the five: residue error 0.0108 and 0.0105 on the
 * mean, 0.0348 and 0.0327 at 95 %, 0.0468 and 0.0429 at 97 %; mean IoU the same.
 */
const LEAST_RESIDUE_ODDS = 0.86;
const { bare: BARE, stain: STAIN, rust: RUST, scale: SCALE, coating: COATING } = CLASS_CODE;
/** Log odds this far below the best round to a probability of 0 in a byte. */
const NEGLIGIBLE = 7;
/** exp(-x) for x from 0 to NEGLIGIBLE, each at the middle of its step: within half a byte of probability. */
const ODDS_STEPS = 256;
const ODDS_BELOW = Float32Array.from({ length: NEGLIGIBLE * ODDS_STEPS }, (_, i) =>
  i === 0 ? 1 : Math.exp(-(i + 0.5) / ODDS_STEPS),
);

/** Probability as a byte, for log odds from -NEGLIGIBLE to NEGLIGIBLE, in the same steps. */
const BYTE_OF_ODDS = Uint8Array.from(
  { length: 2 * NEGLIGIBLE * ODDS_STEPS + 1 },
  (_, i) => 255 / (1 + Math.exp(NEGLIGIBLE - (i + 0.5) / ODDS_STEPS)) + 0.5,
);

/** The segmenter that asks a trained network. */
export function networkSegmenter(network: ClassNetwork): Segmenter {
  return {
    async segment(view) {
      const scale = scaleOf(view);
      const reading = emptyReading(view.grid);
      const take = (tile: LogitTile): void => {
        readTile(view, tile, reading);
      };
      let blocks: BlockCodes | null = null;
      const crossCheck = (): BlockCodes => (blocks ??= blockCodesByColour(view));
      if (scale !== null) {
        const name = await network.classify(view.lab, scale, take, crossCheck);
        return name.ok ? success(segmentationFrom(view, reading, crossCheck(), name.value)) : name;
      }
      const answer = await classifyAtUnknownScale(network, view.lab);
      if (!answer.ok) return answer;
      take(wholeTile(answer.value.logits));
      return success(segmentationFrom(view, reading, crossCheck(), answer.value.network));
    },
  };
}

/** What is known of scale and light; null when no card and nobody tells the scale. */
function scaleOf({ grid, normalisation }: SegmentedView): NetworkScale | null {
  const stepMm = grid.unit === 'mm' ? grid.step : grid.statedMmPerPixel;
  if (stepMm === undefined) return null;
  return {
    stepMm: grid.unit === 'mm' ? stepMm : stepMm * grid.step,
    isColourNormalised: normalisation.response !== null,
  };
}

interface Reading extends Pick<Segmentation, 'codes' | 'blocked' | 'probabilities'> {
  /** Null until the network tells it. */
  underDwell: Uint8Array | null;
}

function emptyReading({ width, height }: SegmentedView['grid']): Reading {
  const layer = (): Uint8Array => new Uint8Array(width * height);
  return {
    codes: byteMask(width, height),
    blocked: byteMask(width, height),
    probabilities: [layer(), layer(), layer(), layer(), layer()],
    underDwell: null,
  };
}

/** Class of every measured pixel, first whether it is residue and then which, with the probabilities of the five classes given that it is one of them. */
function readTile(view: SegmentedView, tile: LogitTile, reading: Reading): void {
  const { codes, blocked, probabilities } = reading;
  const [none, bare, stain, rust, scale, coating] = tile.planes;
  const [pBare, pStain, pRust, pScale, pCoating] = probabilities;
  const [zone, barred, code, block] = [view.zone.values, view.blocked.values, codes.values, blocked.values];
  const { step } = tile;
  const L = view.lab.L.values;
  // With known light, what is clipped is at least so bright; without, it may be anything.
  const hasColours = view.normalisation.response !== null;
  const readable = hasColours ? BLOCKED.clipped : 0;
  // The card's own paper is no surface, but it is not in the zone: what looks like it there is paint, unless it is brighter.
  const leastNone = hasColours ? BRIGHTER_THAN_PAPER : -Infinity;
  for (let y = 0; y < tile.height; y++) {
    const start = tile.first + y * tile.stride;
    const end = start + tile.width;
    // Written out class by class: this runs over every pixel, and a loop over planes takes twice as long.
    for (let j = start, i = (tile.row + y * step) * codes.width + tile.column; j < end; j++, i += step) {
      if (zone[i] === 0) continue;
      block[i] = barred[i];
      if (barred[i] !== 0 && barred[i] !== readable) continue;
      const evenStain = stain[j] - STAIN_ODDS;
      const top = Math.max(bare[j], evenStain, rust[j], scale[j], coating[j]);
      const oBare = oddsBelow(top - bare[j]);
      const oStain = oddsBelow(top - evenStain);
      const oRust = oddsBelow(top - rust[j]);
      const oScale = oddsBelow(top - scale[j]);
      const oCoating = oddsBelow(top - coating[j]);
      const clean = oBare + oStain;
      const residue = oRust + oScale + oCoating;
      const sum = clean + residue;
      // More probably no surface at all (glare, paper, background) than all classes together: it is not measured.
      if (none[j] > top && L[i] > leastNone && Math.exp(none[j] - top) > sum) {
        block[i] = BLOCKED.glare;
        continue;
      }
      code[i] =
        residue < LEAST_RESIDUE_ODDS * clean
          ? stain[j] > bare[j]
            ? STAIN
            : BARE
          : rust[j] > Math.max(scale[j], coating[j])
            ? RUST
            : scale[j] > coating[j]
              ? SCALE
              : COATING;
      // Nothing beside it: most pixels of a clear surface.
      if (sum === 1) {
        probabilities[code[i] - BARE][i] = 255;
        continue;
      }
      const unit = 255 / sum;
      const stained = clean === 0 ? 0 : (clean * STAIN_WEIGHT * oStain) / (oBare + STAIN_WEIGHT * oStain);
      pBare[i] = (clean - stained) * unit + 0.5;
      pStain[i] = stained * unit + 0.5;
      pRust[i] = oRust * unit + 0.5;
      pScale[i] = oScale * unit + 0.5;
      pCoating[i] = oCoating * unit + 0.5;
    }
  }
  readUnderDwell(tile, reading);
}

function readUnderDwell(tile: LogitTile, reading: Reading): void {
  const { codes } = reading;
  const { underDwell: odds, step } = tile;
  if (odds === null) return;
  const underDwell = (reading.underDwell ??= new Uint8Array(codes.values.length));
  for (let y = 0; y < tile.height; y++) {
    const start = tile.first + y * tile.stride;
    const end = start + tile.width;
    for (let j = start, i = (tile.row + y * step) * codes.width + tile.column; j < end; j++, i += step) {
      const overLeast = Math.max(-NEGLIGIBLE, Math.min(NEGLIGIBLE, odds[j])) + NEGLIGIBLE;
      underDwell[i] = BYTE_OF_ODDS[(overLeast * ODDS_STEPS) | 0];
    }
  }
}

function segmentationFrom(view: SegmentedView, reading: Reading, blocks: BlockCodes, network: string): Segmentation {
  const doubtful = doubtfulArea(blocks, reading.codes);
  const hasColours = view.normalisation.response !== null;
  return {
    segmenter: network,
    codes: reading.codes,
    blocked: reading.blocked,
    probabilities: reading.probabilities,
    underDwell: hasColours ? reading.underDwell : null,
    doubtful,
    shareSigma: shareSigmas(reading, doubtful, hasColours),
  };
}

const oddsBelow = (below: number): number => (below < NEGLIGIBLE ? ODDS_BELOW[(below * ODDS_STEPS) | 0] : 0);

/**
 * The network's own share error: a part of what it doubts (mean of the smaller of p and 1 - p), a part of what the
 * cross-check reads differently (for a class: of what was told, or might be, that class), and a floor. Fitted on 259 scenes
 * that took no part in training: they cover 96.5 % of the true residue shares. There the error followed the doubt with a rank
 * correlation of 0.77 and the disagreement told nothing beyond it (most likely part 0); it keeps a part for surfaces unlike
 * those scenes, where a network may be sure and wrong.
 */
const DOUBT_PART = 0.7;
const DISAGREEMENT_PART = 0.06;
const SIGMA_FLOOR = 0.003;
/** Pixels that are enough for these means; of larger rasters every so many are taken. */
const SIGMA_PIXELS = 150_000;
/** Colours that no card normalised: errors of light and balance come on top. Chosen by us. */
const SIGMA_WITHOUT_CARD = 0.05;

function shareSigmas(
  told: Pick<Reading, 'codes' | 'probabilities'>,
  doubtful: ByteMask,
  hasColours: boolean,
): Segmentation['shareSigma'] {
  const doubts = new Float64Array(CLASSES + 1);
  const disagreed = new Float64Array(CLASSES + 1);
  let measured = 0;
  const planes = told.probabilities;
  const stride = 1 + Math.floor(told.codes.values.length / SIGMA_PIXELS);
  for (let i = 0; i < told.codes.values.length; i += stride) {
    const code = told.codes.values[i];
    if (code === 0) continue;
    measured++;
    const isDoubtful = doubtful.values[i] !== 0;
    // Nothing to doubt and nothing in doubt: most pixels of a clear surface.
    if (!isDoubtful && planes[code - CLASS_CODE.bare][i] === 255) continue;
    let residue = 0;
    for (let k = 0; k < CLASSES; k++) {
      const p = planes[k][i];
      doubts[k] += Math.min(p, 255 - p);
      if (k >= RESIDUE_PLANES[0]) residue += p;
      if (isDoubtful) disagreed[k] += k === code - CLASS_CODE.bare ? 255 : p;
    }
    doubts[CLASSES] += Math.max(0, Math.min(residue, 255 - residue));
    if (isDoubtful) disagreed[CLASSES] += 255;
  }
  const whole = 255 * Math.max(1, measured);
  const ground = Math.hypot(SIGMA_FLOOR, hasColours ? 0 : SIGMA_WITHOUT_CARD);
  const sigma = (k: number): number =>
    Math.hypot(ground, (DISAGREEMENT_PART * disagreed[k]) / whole, (DOUBT_PART * doubts[k]) / whole);
  const classes = SURFACE_CLASSES.map((name, k) => [name, sigma(k)] as const);
  return Object.fromEntries([...classes, ['residue', sigma(CLASSES)]]) as Segmentation['shareSigma'];
}
