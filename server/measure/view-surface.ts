import { failure, success } from '../domain/index.ts';
import type { Outcome, Zone } from '../domain/index.ts';
import type { CardValues } from './card/read-card-values.ts';
import { locateCard } from './card/locate-card.ts';
import type { LocatedCard } from './card/locate-card.ts';
import { tiltOf } from './card/card-pose.ts';
import { applyNormalisation } from './colour/apply-normalisation.ts';
import { cardFields } from './colour/card-fields.ts';
import { linearRasterToLabD50 } from './colour/lab-planes.ts';
import type { LabPlanes } from './colour/lab-planes.ts';
import { PLAIN_SRGB, normaliseColour, responseTables } from './colour/normalise-colour.ts';
import type { ColourNormalisation } from './colour/normalise-colour.ts';
import { samplePatches } from './colour/sample-patches.ts';
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
  readonly placed: PlacedZone;
  readonly normalisation: ColourNormalisation;
  readonly grid: SurfaceGrid;
  readonly lab: LabPlanes;
  /** 1 inside the zone. */
  readonly zone: ByteMask;
  /** Why a zone pixel cannot be measured (codes of BLOCKED); 0 is free. */
  readonly blocked: ByteMask;
}

export interface ViewOptions {
  readonly zone: Zone | null;
  readonly cardValues: CardValues | null;
  readonly kernel: VisionKernel;
}

/** Finest step of the working raster, mm: four samples in the finest texture that is judged (0.5 mm) and in narrow stripes. */
export const FINEST_STEP_MM = 0.25;
/** Pixels of the working raster at most; larger zones are looked at more coarsely. */
const MOST_GRID_PIXELS = 2_400_000;
/** Border round the card that is left out with it: its cut edge and shadow. */
const CARD_MARGIN_MM = 3;

/** Finds the card, fits colour, places the zone and brings it to its plane. */
export function viewSurface(photo: EncodedRgbRaster, options: ViewOptions): Outcome<SurfaceView> {
  const search = locateCard(photo, options.kernel);
  if (!search.ok) return search;
  const located = search.value;
  const placing = placeZone(options.zone, located, photo);
  if (!placing.ok) return placing;
  const placed = placing.value;
  const normalisation = normalise(photo, located, options.cardValues);
  const grid = gridFor(placed);
  const zone = zoneMask(grid, placed, located);
  const tables = responseTables(normalisation, photo.maxCode);
  const { light, blocked } = rectifyPhoto(photo, grid, { map: placed.map, mask: zone, tables });
  if (!zone.values.includes(1)) return failure({ code: 'zone-too-small', areaPx: 0, leastPx: 1 });
  return success({
    located,
    tiltDegrees: located === null ? null : tiltOf(located.map.toIdeal, photo),
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

function gridFor(placed: PlacedZone): SurfaceGrid {
  const pixel = 1 / placed.pxPerUnit;
  const finest = placed.unit === 'mm' ? Math.max(FINEST_STEP_MM, pixel) : 1;
  return layGrid(placed.polygon, placed.unit, finest, MOST_GRID_PIXELS);
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
