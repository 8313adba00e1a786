import { failure, success } from '../domain/index.ts';
import type { Outcome, Zone } from '../domain/index.ts';
import type { CardValues } from './card/read-card-values.ts';
import { locateCard } from './card/locate-card.ts';
import type { LocatedCard } from './card/locate-card.ts';
import { tiltOf } from './card/card-pose.ts';
import { cardEdgeBlurPx } from './card/card-sharpness.ts';
import { applyNormalisation } from './colour/apply-normalisation.ts';
import { cardFields } from './colour/card-fields.ts';
import { linearRasterToLabD50 } from './colour/lab-planes.ts';
import type { LabPlanes } from './colour/lab-planes.ts';
import { PLAIN_SRGB, normaliseColour, responseTables } from './colour/normalise-colour.ts';
import type { ColourNormalisation } from './colour/normalise-colour.ts';
import { samplePatches } from './colour/sample-patches.ts';
import { blockBlurred } from './geometry/block-blurred.ts';
import { placeZone } from './geometry/place-zone.ts';
import type { PlacedZone } from './geometry/place-zone.ts';
import { rectifyPhoto } from './geometry/rectify-photo.ts';
import { layGrid, planeToGrid } from './geometry/surface-grid.ts';
import type { SurfaceGrid } from './geometry/surface-grid.ts';
import { byteMask } from './raster/plane.ts';
import type { ByteMask } from './raster/plane.ts';
import { fillPolygon } from './raster/polygon-mask.ts';
import type { EncodedRgbRaster } from './raster/rgb-raster.ts';
import type { VisionKernel } from './vision-kernel.ts';

/** The zone of one photo in true colour on a raster in its own plane: what segmentation and measurement work on. */
export interface SurfaceView {
  readonly located: LocatedCard | null;
  readonly tiltDegrees: number | null;
  /** How soft the card's edges look, px of the photo (see cardEdgeBlurPx). */
  readonly edgeBlurPx: number | null;
  readonly placed: PlacedZone;
  readonly normalisation: ColourNormalisation;
  readonly grid: SurfaceGrid;
  readonly lab: LabPlanes;
  /** 1 inside the zone. */
  readonly zone: ByteMask;
  /** Why a pixel cannot be measured (codes of BLOCKED); 0 is free. */
  readonly blocked: ByteMask;
}

/** What the card says about a photo: asked once, used for every zone of it. */
export interface CardReading {
  readonly located: LocatedCard | null;
  readonly normalisation: ColourNormalisation;
}

/** Finest step of the working raster, mm: four samples in the finest texture that is judged (0.5 mm) and in narrow stripes. */
export const FINEST_STEP_MM = 0.25;
/** Pixels of the working raster at most; larger zones are looked at more coarsely. */
const MOST_GRID_PIXELS = 2_400_000;
/** Border round the card that is left out with it: its cut edge and shadow. */
const CARD_MARGIN_MM = 3;

/** Finds the card and fits colour to it; no card in view is an answer, a card that cannot be used is a fault. */
export function readCard(
  photo: EncodedRgbRaster,
  cardValues: CardValues | null,
  kernel: VisionKernel,
): Outcome<CardReading> {
  const search = locateCard(photo, kernel);
  if (!search.ok) return search;
  const located = search.value;
  return success({ located, normalisation: normalise(photo, located, cardValues) });
}

/**
 * Places a zone and brings it to its plane in true colour.
 * @param statedMmPerPixel scale that somebody states for a photo without a card: helps the segmenter, yields no millimetres
 */
export function viewSurface(
  photo: EncodedRgbRaster,
  { located, normalisation }: CardReading,
  zoneAsked: Zone | null,
  statedMmPerPixel: number | null = null,
): Outcome<SurfaceView> {
  const placing = placeZone(zoneAsked, located, photo);
  if (!placing.ok) return placing;
  const placed = placing.value;
  const grid = gridFor(placed, statedMmPerPixel);
  const zone = zoneMask(grid, placed, located);
  const tables = responseTables(normalisation, photo.maxCode);
  // What lies round the zone is brought along: a segmenter looks at surroundings.
  const everywhere = byteMask(grid.width, grid.height);
  everywhere.values.fill(1);
  const { light, blocked } = rectifyPhoto(photo, grid, { map: placed.map, mask: everywhere, tables });
  const edgeBlurPx = located === null ? null : cardEdgeBlurPx(photo, located);
  if (edgeBlurPx !== null) blockBlurred(blocked, grid, placed.map, edgeBlurPx);
  if (!zone.values.includes(1)) return failure({ code: 'zone-too-small', areaPx: 0, leastPx: 1 });
  return success({
    located,
    tiltDegrees: located === null ? null : tiltOf(located.map.toIdeal, photo),
    edgeBlurPx,
    placed,
    normalisation,
    grid,
    lab: linearRasterToLabD50(applyNormalisation(light, grid, normalisation)),
    zone,
    blocked,
  });
}

function normalise(
  photo: EncodedRgbRaster,
  located: LocatedCard | null,
  cardValues: CardValues | null,
): ColourNormalisation {
  if (located === null) return PLAIN_SRGB;
  const samples = samplePatches(photo, located, cardFields(located.card, cardValues));
  return normaliseColour(samples, cardValues === null ? 'nominal' : 'measured');
}

function gridFor(placed: PlacedZone, statedMmPerPixel: number | null): SurfaceGrid {
  const pixel = 1 / placed.pxPerUnit;
  const finest = placed.unit === 'mm' ? Math.max(FINEST_STEP_MM, pixel) : 1;
  const grid = layGrid(placed.polygon, placed.unit, finest, MOST_GRID_PIXELS);
  return placed.unit === 'px' && statedMmPerPixel !== null ? { ...grid, statedMmPerPixel } : grid;
}

function zoneMask(grid: SurfaceGrid, placed: PlacedZone, located: LocatedCard | null): ByteMask {
  const mask = byteMask(grid.width, grid.height);
  const onGrid = (points: readonly (readonly [number, number])[]): [number, number][] =>
    points.map(([x, y]) => planeToGrid(grid, x, y));
  fillPolygon(mask, onGrid(placed.polygon), 1);
  if (located !== null && placed.isWholePhoto) {
    const { widthMm: w, heightMm: h } = located.card;
    const m = CARD_MARGIN_MM;
    const card: [number, number][] = [
      [-m, -m],
      [w + m, -m],
      [w + m, h + m],
      [-m, h + m],
    ];
    fillPolygon(mask, onGrid(card), 0);
  }
  return mask;
}
