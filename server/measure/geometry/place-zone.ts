import { failure, photoPoint, success, surfacePoint } from '../../domain/index.ts';
import type { Outcome, PhotoPoint, SurfacePoint, Zone } from '../../domain/index.ts';
import type { LocatedCard } from '../card/locate-card.ts';
import { projectiveDepth } from './homography.ts';
import { flatPhotoMap, pixelsPerUnit, toPhotoPixel, toSurfacePoint } from './photo-map.ts';
import type { PhotoMap } from './photo-map.ts';
import { clipToRectangle, crossingEdges, polygonArea, polygonCentroid } from './polygon.ts';

/** The zone on the plane that is measured, and how that plane is seen. */
export interface PlacedZone {
  readonly unit: 'mm' | 'px';
  readonly polygon: readonly SurfacePoint[];
  readonly map: PhotoMap;
  /** True when no zone was given: everything in the photo but the card. */
  readonly isWholePhoto: boolean;
  /** Photo pixels per unit of the plane at the zone's centre: [larger, smaller] principal stretch is averaged. */
  readonly pxPerUnit: number;
}

interface PhotoSize {
  readonly width: number;
  readonly height: number;
}

/** A zone may stick out of the photo or under the card by a hair, as corners are dragged by hand. */
const MOST_OUTSIDE_SHARE = 0.01;
const MOST_CARD_SHARE = 0.01;
const LEAST_ZONE_PX = 1600;
/** Without a zone, surface this many times more foreshortened than the card is left out: it is far beyond the zone of interest. */
const MOST_RECESSION = 3;

export function placeZone(zone: Zone | null, located: LocatedCard | null, photo: PhotoSize): Outcome<PlacedZone> {
  const frame = { x0: 0, y0: 0, x1: photo.width, y1: photo.height };
  if (zone?.space === 'photo') {
    // Asked first: pixels far out of the photo may lie above the horizon, and that would send the operator the wrong way.
    const outsideShare = outsideShareOf(zone.polygon, frame);
    if (outsideShare > MOST_OUTSIDE_SHARE) return failure({ code: 'zone-outside-photo', outsideShare });
  }
  const outlined = zone === null ? success(wholePhoto(located, photo)) : outlineOnPlane(zone, located);
  if (!outlined.ok) return outlined;
  const polygon = outlined.value;
  const map = located?.map ?? flatPhotoMap(photo);
  const crossing = crossingEdges(polygon);
  if (crossing !== null) return failure({ code: 'zone-crosses-itself', edges: crossing });
  if (polygon.some((p) => projectiveDepth(map.toIdeal, p) <= 0)) return failure({ code: 'zone-behind-camera' });
  const inPhoto = polygon.map((p) => toPhotoPixel(map, p));
  const areaPx = polygonArea(inPhoto);
  const outsideShare = outsideShareOf(inPhoto, frame);
  if (outsideShare > MOST_OUTSIDE_SHARE) return failure({ code: 'zone-outside-photo', outsideShare });
  if (areaPx < LEAST_ZONE_PX) return failure({ code: 'zone-too-small', areaPx, leastPx: LEAST_ZONE_PX });
  const overlapShare = zone === null || located === null ? 0 : cardShare(polygon, located);
  if (overlapShare > MOST_CARD_SHARE) return failure({ code: 'zone-over-card', overlapShare });
  return success({
    unit: located === null ? 'px' : 'mm',
    polygon,
    map,
    isWholePhoto: zone === null,
    pxPerUnit: pixelsPerUnit(map, polygonCentroid(polygon)),
  });
}

function outlineOnPlane(zone: Zone, located: LocatedCard | null): Outcome<readonly SurfacePoint[]> {
  if (zone.space === 'surface') {
    return located === null ? failure({ code: 'zone-needs-card' }) : success(zone.polygon);
  }
  if (located === null) return success(zone.polygon.map(([x, y]) => surfacePoint(x, y)));
  if (zone.polygon.some((p) => projectiveDepth(located.map.fromIdeal, p) <= 0)) {
    return failure({ code: 'zone-behind-camera' });
  }
  return success(zone.polygon.map((p) => toSurfacePoint(located.map, p)));
}

/** All of a zone is outside when its numbers are too large for its area to be a number. */
function outsideShareOf(inPhoto: readonly PhotoPoint[], frame: Parameters<typeof clipToRectangle>[1]): number {
  const areaPx = polygonArea(inPhoto);
  if (!Number.isFinite(areaPx)) return 1;
  return areaPx > 0 ? 1 - polygonArea(clipToRectangle(inPhoto, frame)) / areaPx : 0;
}

function cardShare(polygon: readonly SurfacePoint[], located: LocatedCard): number {
  const { widthMm, heightMm } = located.card;
  const covered = clipToRectangle(polygon, { x0: 0, y0: 0, x1: widthMm, y1: heightMm });
  return covered.length < 3 ? 0 : polygonArea(covered) / polygonArea(polygon);
}

/** The photo's frame on the plane, without what recedes towards the horizon. */
function wholePhoto(located: LocatedCard | null, photo: PhotoSize): SurfacePoint[] {
  const frame: [number, number][] = [
    [0, 0],
    [photo.width, 0],
    [photo.width, photo.height],
    [0, photo.height],
  ];
  if (located === null) return frame.map(([x, y]) => surfacePoint(x, y));
  const h = located.map.fromIdeal.elements;
  const depth = ([x, y]: readonly [number, number]): number => h[6] * x + h[7] * y + h[8];
  const centre = toPhotoPixel(located.map, surfacePoint(located.card.widthMm / 2, located.card.heightMm / 2));
  const least = depth(centre) / MOST_RECESSION;
  const kept: [number, number][] = [];
  frame.forEach((here, i) => {
    const next = frame[(i + 1) % frame.length];
    if (depth(here) >= least) kept.push(here);
    if (depth(here) >= least !== depth(next) >= least) {
      const t = (least - depth(here)) / (depth(next) - depth(here));
      kept.push([here[0] + t * (next[0] - here[0]), here[1] + t * (next[1] - here[1])]);
    }
  });
  return kept.map(([x, y]) => toSurfacePoint(located.map, photoPoint(x, y)));
}
