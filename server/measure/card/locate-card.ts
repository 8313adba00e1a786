import { failure, photoPoint, success } from '../../domain/index.ts';
import type {
  Homography,
  MarkerCorner,
  Outcome,
  PhotoPoint,
  RectangleMm,
  ReferenceCard,
  SurfacePoint,
} from '../../domain/index.ts';
import { fitHomography } from '../geometry/fit-homography.ts';
import type { PointPair } from '../geometry/fit-homography.ts';
import { fitPrintedSquares } from './fit-printed-squares.ts';
import type { PrintedSquaresFit } from './fit-printed-squares.ts';
import { photoMap, straightLens, toPhotoPixel, toSurfacePoint } from '../geometry/photo-map.ts';
import type { PhotoMap } from '../geometry/photo-map.ts';
import { polygonArea } from '../geometry/polygon.ts';
import { luminanceSampler } from '../raster/luminance-sampler.ts';
import { reducedLuma } from '../raster/reduced-luma.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import type { VisionKernel } from '../vision-kernel.ts';
import { CURRENT_EDITION, referenceCard } from './card-layout.ts';
import { findMarkers } from './find-markers.ts';
import type { FoundMarker, MarkerSearch } from './find-markers.ts';
import { refineSquare, squareCorners } from './refine-square.ts';

/** Where the card lies in a photo, and how well that is known. */
export interface LocatedCard {
  readonly card: ReferenceCard;
  readonly map: PhotoMap;
  /** 8 x 8 covariance of the elements of `map.toIdeal` (row-major, last element fixed at 1), px units of the photo. */
  readonly covariance: Float64Array;
  /** Standard deviation of the lens's bend. */
  readonly bendSigma: number;
  /** Corners of the outline in the photo: top left, top right, bottom right, bottom left of the upright card. */
  readonly outline: readonly PhotoPoint[];
  readonly markersRead: number;
}

/** The long side of the first, coarse search, px; a card that is small in a large photo is sought again at full size. */
const COARSE_LONG_SIDE_PX = 1600;
const MARKERS_NEEDED = 3;
/** A card 250 px wide and tilted by 50 degrees covers as much as one of 200 px face on. */
const LEAST_CARD_WIDTH_PX = 160;
/** Part of the card that may be out of the photo before it counts as cropped: the quiet border. */
const MOST_OUTSIDE_MM = 2;
/** A card may sag this much at its middle: the fit takes it out. Beyond it the card no longer stands for the surface's plane. */
const MOST_SAG_MM = 4;
/** Rms distance of the marks from the fitted card: a crumpled or kinked one misses by more. */
const MOST_RESIDUAL_MM = 0.5;
const MARKER_REACH_MODULES = 0.8;
/** Patches this dark have edges as clear as a marker's; half the gap between patches is free beside them. */
const DARK_PATCH_LIGHTNESS = 45;
const PATCH_REACH_MM = 0.95;

/**
 * Finds the reference card and the map between its plane and the photo.
 * @returns null when no card is in view; a fault when there is one that cannot be used
 */
export function locateCard(photo: EncodedRgbRaster, kernel: VisionKernel): Outcome<LocatedCard | null> {
  const search = searchMarkers(photo, kernel);
  const choice = chooseMarkers(search, photo);
  if (!choice.ok) return choice;
  if (choice.value === null) return success(null);
  const card = referenceCard(CURRENT_EDITION);
  const rough = fitHomography(markerPairs(card, choice.value));
  if (rough === null) {
    return failure({ code: 'card-incomplete', markersSeen: choice.value.length, markersNeeded: MARKERS_NEEDED });
  }
  return refineCard(photo, card, rough.map, choice.value.length);
}

function searchMarkers(photo: EncodedRgbRaster, kernel: VisionKernel): MarkerSearch {
  const factor = Math.ceil(Math.max(photo.width, photo.height) / COARSE_LONG_SIDE_PX);
  const coarse = findMarkers(reducedLuma(photo, factor), factor, kernel);
  if (factor === 1 || coarse.markers.length >= MARKERS_NEEDED) return coarse;
  const middle = Math.floor(factor / 2);
  const fine = findMarkers(reducedLuma(photo, middle), middle, kernel);
  if (middle === 1 || fine.markers.length >= MARKERS_NEEDED) return fine;
  return findMarkers(reducedLuma(photo, 1), 1, kernel);
}

/** One usable set of markers of the current edition, at most one per corner. */
function chooseMarkers(search: MarkerSearch, photo: EncodedRgbRaster): Outcome<FoundMarker[] | null> {
  const { markers, foreign } = search;
  const strangers = markers.filter((m) => m.edition !== CURRENT_EDITION);
  if (strangers.length >= MARKERS_NEEDED) {
    return failure({ code: 'card-edition-unknown', edition: strangers[0].edition });
  }
  const ours = markers.filter((m) => m.edition === CURRENT_EDITION);
  const perCorner = new Map<MarkerCorner, number>();
  for (const marker of ours) perCorner.set(marker.corner, (perCorner.get(marker.corner) ?? 0) + 1);
  const copies = Math.max(0, ...perCorner.values());
  if (copies > 1) return failure({ code: 'card-several', count: copies });
  if (ours.length >= MARKERS_NEEDED) return success(ours);
  if (ours.length > 0) return partialCard(ours, photo);
  return foreign >= MARKERS_NEEDED ? failure({ code: 'card-foreign', markersSeen: foreign }) : success(null);
}

/** One or two markers: tells a card that runs out of the photo from one that is covered. */
function partialCard(markers: FoundMarker[], photo: EncodedRgbRaster): Outcome<FoundMarker[] | null> {
  const card = referenceCard(CURRENT_EDITION);
  const fit = fitHomography(markerPairs(card, markers));
  const incomplete = failure({ code: 'card-incomplete', markersSeen: markers.length, markersNeeded: MARKERS_NEEDED });
  if (fit === null) return incomplete;
  const outsideMm = millimetresOutside(card, photoMap(fit.map, straightLens(photo)), photo);
  return outsideMm > MOST_OUTSIDE_MM ? failure({ code: 'card-cropped', outsideMm }) : incomplete;
}

function markerPairs(card: ReferenceCard, markers: readonly FoundMarker[]): PointPair<SurfacePoint, PhotoPoint>[] {
  return markers.flatMap((found) => {
    const area = card.markers.find((m) => m.corner === found.corner)?.area;
    if (area === undefined) throw new Error(`The layout lacks the marker ${found.corner}`);
    return squareCorners(area).map((from, i) => ({ from, to: found.corners[i] }));
  });
}

function refineCard(
  photo: EncodedRgbRaster,
  card: ReferenceCard,
  rough: Homography<SurfacePoint, PhotoPoint>,
  markersRead: number,
): Outcome<LocatedCard> {
  const fit = refineFit(photo, card, rough);
  if (fit === null) {
    return failure({ code: 'card-incomplete', markersSeen: markersRead, markersNeeded: MARKERS_NEEDED });
  }
  const map = photoMap(fit.plane.map, fit.lens);
  const outsideMm = millimetresOutside(card, map, photo);
  if (outsideMm > MOST_OUTSIDE_MM) return failure({ code: 'card-cropped', outsideMm });
  const outline = cardOutline(card).map((corner) => toPhotoPixel(map, corner));
  // The width that a card of the same area in pixels would have face on.
  const widthPx = card.widthMm * Math.sqrt(polygonArea(outline) / (card.widthMm * card.heightMm));
  if (widthPx < LEAST_CARD_WIDTH_PX) return failure({ code: 'card-too-small', widthPx, leastPx: LEAST_CARD_WIDTH_PX });
  const residualMm = (fit.plane.rms * card.widthMm) / widthPx;
  if (residualMm > MOST_RESIDUAL_MM || fit.sagMm > MOST_SAG_MM) {
    return failure({ code: 'card-curved', residualMm: Math.max(residualMm, fit.sagMm), mostMm: MOST_SAG_MM });
  }
  return success({
    card,
    map,
    covariance: fit.plane.unitCovariance.map((value) => value * fit.cornerSigmaPx ** 2),
    bendSigma: fit.bendSigma,
    outline,
    markersRead,
  });
}

/** Fits the map to the refined corners of markers and dark patches, twice: the second time from a start that is already close. */
function refineFit(
  photo: EncodedRgbRaster,
  card: ReferenceCard,
  rough: Homography<SurfacePoint, PhotoPoint>,
): PrintedSquaresFit | null {
  const luminance = luminanceSampler(photo);
  let map = photoMap(rough, straightLens(photo));
  let fit: PrintedSquaresFit | null = null;
  for (let round = 0; round < 2; round++) {
    const corners = printedSquares(card).flatMap(({ area, reachMm }) => {
      const refined = refineSquare(luminance, map, area, reachMm);
      if (refined === null) return [];
      return squareCorners(area).map((from, i) => ({ from, to: refined.corners[i], growth: refined.growth[i] }));
    });
    fit = fitPrintedSquares(corners, { photo, card });
    if (fit === null) return null;
    map = photoMap(fit.plane.map, fit.lens);
  }
  return fit;
}

/** Everything square and dark on white, and how far beside it nothing else is printed. */
function printedSquares(card: ReferenceCard): { area: RectangleMm; reachMm: number }[] {
  const markers = card.markers.map(({ area, modules }) => ({
    area,
    reachMm: (area.width / modules) * MARKER_REACH_MODULES,
  }));
  const patches = card.patches.filter(({ nominal }) => nominal.lab.L < DARK_PATCH_LIGHTNESS);
  return [...markers, ...patches.map(({ area }) => ({ area, reachMm: PATCH_REACH_MM }))];
}

function cardOutline(card: ReferenceCard): SurfacePoint[] {
  return squareCorners({ x: 0, y: 0, width: card.widthMm, height: card.heightMm });
}

/** How far the furthest corner of the card lies out of the photo, mm of the card (0 when all are inside). */
function millimetresOutside(
  card: ReferenceCard,
  map: PhotoMap,
  photo: { readonly width: number; readonly height: number },
): number {
  const distances = cardOutline(card).map((corner) => {
    const [x, y] = toPhotoPixel(map, corner);
    const inside = photoPoint(Math.min(Math.max(x, 0), photo.width), Math.min(Math.max(y, 0), photo.height));
    const [mx, my] = toSurfacePoint(map, inside);
    return Math.hypot(mx - corner[0], my - corner[1]);
  });
  return Math.max(...distances);
}
