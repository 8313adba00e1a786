import { failure, photoPoint, success } from '../../domain/index.ts';
import type { Homography, MarkerCorner, Outcome, PhotoPoint, ReferenceCard, SurfacePoint } from '../../domain/index.ts';
import { fitHomography } from '../geometry/fit-homography.ts';
import type { HomographyFit, PointPair } from '../geometry/fit-homography.ts';
import { invertHomography, project } from '../geometry/homography.ts';
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
  readonly toPhoto: Homography<SurfacePoint, PhotoPoint>;
  readonly toSurface: Homography<PhotoPoint, SurfacePoint>;
  /** 8 x 8 covariance of the elements of `toPhoto` (row-major, last element fixed at 1), px units of the photo. */
  readonly covariance: Float64Array;
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
/** Rms distance of the marks from a flat card that is taken as flat; chosen by tests/accuracy (bent cards miss by more). */
const MOST_BEND_MM = 0.5;
/** A corner further than this many times the rms from the fit is left out. */
const OUTLIER_FACTOR = 3.5;
/** An error floor for a corner, px: what refinement reaches at best on a compressed photo. */
const LEAST_CORNER_SIGMA_PX = 0.05;
const MARKER_REACH_MODULES = 0.8;

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
  const outsideMm = millimetresOutside(card, fit.map, photo);
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
  const fit = fitPrintedSquares(photo, card, rough);
  if (fit === null)
    {return failure({ code: 'card-incomplete', markersSeen: markersRead, markersNeeded: MARKERS_NEEDED });}
  const outsideMm = millimetresOutside(card, fit.map, photo);
  if (outsideMm > MOST_OUTSIDE_MM) return failure({ code: 'card-cropped', outsideMm });
  const outline = cardOutline(card).map((corner) => project(fit.map, corner));
  // The width that a card of the same area in pixels would have face on.
  const widthPx = card.widthMm * Math.sqrt(polygonArea(outline) / (card.widthMm * card.heightMm));
  if (widthPx < LEAST_CARD_WIDTH_PX) return failure({ code: 'card-too-small', widthPx, leastPx: LEAST_CARD_WIDTH_PX });
  const residualMm = (fit.rms * card.widthMm) / widthPx;
  if (residualMm > MOST_BEND_MM) return failure({ code: 'card-curved', residualMm, mostMm: MOST_BEND_MM });
  const sigma = Math.max(LEAST_CORNER_SIGMA_PX, fit.rms);
  return success({
    card,
    toPhoto: fit.map,
    toSurface: invertHomography(fit.map),
    covariance: fit.unitCovariance.map((value) => value * sigma * sigma),
    outline,
    markersRead,
  });
}

/** Fits the map to the refined corners of everything square, dark and printed: the markers twice, then dark patches too. */
function fitPrintedSquares(
  photo: EncodedRgbRaster,
  card: ReferenceCard,
  rough: Homography<SurfacePoint, PhotoPoint>,
): HomographyFit<SurfacePoint, PhotoPoint> | null {
  const luminance = luminanceSampler(photo);
  let map = rough;
  let fit: HomographyFit<SurfacePoint, PhotoPoint> | null = null;
  for (let round = 0; round < 2; round++) {
    const pairs = card.markers.flatMap((marker) => {
      const reachMm = (marker.area.width / marker.modules) * MARKER_REACH_MODULES;
      const refined = refineSquare(luminance, map, marker.area, reachMm);
      if (refined === null) return [];
      return squareCorners(marker.area).map((from, i) => ({ from, to: refined.corners[i] }));
    });
    fit = fitWithoutOutliers(pairs);
    if (fit === null) return null;
    map = fit.map;
  }
  return fit;
}

function fitWithoutOutliers(
  pairs: readonly PointPair<SurfacePoint, PhotoPoint>[],
): HomographyFit<SurfacePoint, PhotoPoint> | null {
  const fit = fitHomography(pairs);
  if (fit === null || pairs.length <= 8) return fit;
  const limit = OUTLIER_FACTOR * Math.max(fit.rms, LEAST_CORNER_SIGMA_PX);
  const kept = pairs.filter((pair) => {
    const [x, y] = project(fit.map, pair.from);
    return Math.hypot(x - pair.to[0], y - pair.to[1]) <= limit;
  });
  return kept.length === pairs.length || kept.length < 8 ? fit : fitHomography(kept);
}

function cardOutline(card: ReferenceCard): SurfacePoint[] {
  return squareCorners({ x: 0, y: 0, width: card.widthMm, height: card.heightMm });
}

/** How far the furthest corner of the card lies out of the photo, mm of the card (0 when all are inside). */
function millimetresOutside(
  card: ReferenceCard,
  toPhoto: Homography<SurfacePoint, PhotoPoint>,
  photo: { readonly width: number; readonly height: number },
): number {
  const toSurface = invertHomography(toPhoto);
  const distances = cardOutline(card).map((corner) => {
    const [x, y] = project(toPhoto, corner);
    const inside = photoPoint(Math.min(Math.max(x, 0), photo.width), Math.min(Math.max(y, 0), photo.height));
    const [mx, my] = project(toSurface, inside);
    return Math.hypot(mx - corner[0], my - corner[1]);
  });
  return Math.max(...distances);
}
