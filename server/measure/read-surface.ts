import { failure, success } from '../domain/index.ts';
import type { Outcome, Photo, Zone } from '../domain/index.ts';
import { describePhoto } from './describe-photo.ts';
import { polygonArea } from './geometry/polygon.ts';
import type { EncodedRgbRaster } from './raster/rgb-raster.ts';
import { NO_NOISE, cardNoise } from './residue/card-noise.ts';
import type { TextureNoise } from './residue/card-noise.ts';
import { measureSurface } from './residue/measure-surface.ts';
import type { MeasuredSurface } from './residue/measure-surface.ts';
import type { Segmentation, Segmenter } from './segmentation/segmentation.ts';
import { viewSurface } from './view-surface.ts';
import type { CardReading, SurfaceView } from './view-surface.ts';
import type { VisionKernel } from './vision-kernel.ts';

/** One photo and what is asked of it. */
export interface PhotoQuestion {
  readonly photo: EncodedRgbRaster;
  readonly sha256: string;
  readonly card: CardReading;
  /** null: everything but the card. */
  readonly zone: Zone | null;
  /** The card's patches were measured, and not taken from the design. */
  readonly isMeasuredCard: boolean;
}

/** What one photo says about its zone. */
export interface SurfaceReading extends MeasuredSurface {
  readonly photo: Photo;
  readonly raster: EncodedRgbRaster;
  readonly view: SurfaceView;
  readonly segmentation: Segmentation;
  readonly areaMm2: number | null;
}

/** What measuring needs from outside: vision, a segmenter, and somebody who wants to know how far it is. */
export interface MeasuringTools {
  readonly kernel: VisionKernel;
  readonly segmenter: Segmenter;
  readonly onStage?: (stage: MeasuringStage) => void;
}
export type MeasuringStage = 'view' | 'segment' | 'measure' | 'streaks' | 'register';

/** More than this part unmeasured leaves too little to speak of the zone. */
const MOST_UNMEASURED = 0.95;

/**
 * Standard deviations of L*: what the colour fit leaves (per median held-out CIEDE2000), and how far the white of the paper
 * is from its nominal value when the card was not measured (office papers: L* 92 to 97, common practice).
 */
const LIGHTNESS_PER_DELTA_E = 0.7;
const PAPER_LIGHTNESS_SIGMA = 2.5;
const LIGHTNESS_SIGMA_WITHOUT_CARD = 10;

export async function readSurface(question: PhotoQuestion, tools: MeasuringTools): Promise<Outcome<SurfaceReading>> {
  const { photo, sha256, zone, card, isMeasuredCard } = question;
  tools.onStage?.('view');
  const viewing = viewSurface(photo, card, zone);
  if (!viewing.ok) return viewing;
  const view = viewing.value;
  tools.onStage?.('segment');
  const segmenting = await tools.segmenter.segment(view);
  if (!segmenting.ok) return segmenting;
  const segmentation = segmenting.value;
  const unmeasuredShare = unmeasuredOf(view, segmentation);
  if (unmeasuredShare > MOST_UNMEASURED) return failure({ code: 'nothing-measured', unmeasuredShare });
  tools.onStage?.('measure');
  const measured = measureSurface(view, segmentation, {
    lightnessSigma: lightnessSigma(view, isMeasuredCard),
    noiseAt: noiseOf(photo, view),
  });
  return success({
    ...measured,
    photo: describePhoto({ widthPx: photo.width, heightPx: photo.height, sha256 }, view),
    raster: photo,
    view,
    segmentation,
    areaMm2: view.grid.unit === 'mm' ? zoneArea(view) : null,
  });
}

function unmeasuredOf(view: SurfaceView, { codes }: Segmentation): number {
  let zone = 0;
  let measured = 0;
  for (let i = 0; i < codes.values.length; i++) {
    if (view.zone.values[i] === 0) continue;
    zone++;
    if (codes.values[i] !== 0) measured++;
  }
  return zone === 0 ? 1 : 1 - measured / zone;
}

function lightnessSigma(view: SurfaceView, isMeasuredCard: boolean): number {
  const { heldOut } = view.normalisation;
  if (heldOut === null) return LIGHTNESS_SIGMA_WITHOUT_CARD;
  return Math.hypot(LIGHTNESS_PER_DELTA_E * heldOut.median, isMeasuredCard ? 0 : PAPER_LIGHTNESS_SIGMA);
}

function noiseOf(photo: EncodedRgbRaster, { located, normalisation, grid }: SurfaceView): (L: number) => TextureNoise {
  return located === null ? () => NO_NOISE : cardNoise({ photo, located, normalisation, stepMm: grid.step });
}

/** A zone that was drawn has the area of its outline; one that is all but the card is counted. */
function zoneArea({ placed, zone, grid }: SurfaceView): number {
  if (!placed.isWholePhoto) return polygonArea(placed.polygon);
  return zone.values.reduce((sum, inside) => sum + inside, 0) * grid.step ** 2;
}
