import { surfacePoint } from '../../../domain/index.ts';
import type { RecordPhoto, SurfaceInPhoto, WorstUnitArea } from '../../../domain/index.ts';
import { homography } from '../../../measure/geometry/homography.ts';
import { photoMap, toPhotoPixel } from '../../../measure/geometry/photo-map.ts';
import type { PhotoMap } from '../../../measure/geometry/photo-map.ts';
import { layGrid } from '../../../measure/geometry/surface-grid.ts';

type Vertex = readonly [x: number, y: number];

/** The part of the surface (or, without a card, of the photo) that a picture shows, and how its points are found in the photo. */
export interface PictureFrame {
  readonly unit: 'mm' | 'px';
  readonly origin: Vertex;
  /** Of the frame's x axis from the card's, radians. */
  readonly angle: number;
  readonly width: number;
  readonly height: number;
  /** From frame coordinates to pixels of the upright photo. */
  readonly toPhoto: (x: number, y: number) => Vertex;
  /** From the plane to frame coordinates. */
  readonly fromPlane: (point: Vertex) => Vertex;
  /** Outline of the zone in frame coordinates; null where the whole photo is shown. */
  readonly zone: readonly Vertex[] | null;
}

/** Room around the zone, as a part of its longer side. */
const MARGIN_PART = 0.04;

/** The zone with a little room around it, in the card's own directions; the whole photo where there is no scale. */
export function zoneFrame(
  photo: RecordPhoto,
  sizePx: { readonly width: number; readonly height: number },
): PictureFrame {
  if (photo.surface === null) return wholePhoto(sizePx);
  const { zoneMm } = photo.surface;
  const xs = zoneMm.map(([x]) => x);
  const ys = zoneMm.map(([, y]) => y);
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = MARGIN_PART * Math.max(right - left, bottom - top);
  return surfaceFrame(photo.surface, {
    origin: [left - room, top - room],
    angle: 0,
    width: right - left + 2 * room,
    height: bottom - top + 2 * room,
  });
}

/** Exactly the worst square, along its own sides: the unit area lies along the grid that was measured on. */
export function worstSquareFrame(surface: SurfaceInPhoto, worst: WorstUnitArea): PictureFrame {
  const angle = zoneAngle(surface);
  const half = worst.sideMm / 2;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const [x, y] = worst.centreMm;
  return surfaceFrame(surface, {
    origin: [x - cos * half + sin * half, y - sin * half - cos * half],
    angle,
    width: worst.sideMm,
    height: worst.sideMm,
  });
}

/** Corners of the worst square on the plane, in turn. */
export function worstSquareCorners(surface: SurfaceInPhoto, worst: WorstUnitArea): Vertex[] {
  const angle = zoneAngle(surface);
  const [cos, sin] = [(Math.cos(angle) * worst.sideMm) / 2, (Math.sin(angle) * worst.sideMm) / 2];
  const [x, y] = worst.centreMm;
  return [
    [x - cos + sin, y - sin - cos],
    [x + cos + sin, y + sin - cos],
    [x + cos - sin, y + sin + cos],
    [x - cos - sin, y - sin + cos],
  ];
}

/** The working raster is laid along the zone; its direction is found again from the outline alone. */
function zoneAngle({ zoneMm }: SurfaceInPhoto): number {
  const anyStep = 1;
  const anySize = 1e6;
  return layGrid(zoneMm, 'mm', anyStep, anySize).angle;
}

function surfaceFrame(
  surface: SurfaceInPhoto,
  frame: Pick<PictureFrame, 'origin' | 'angle' | 'width' | 'height'>,
): PictureFrame {
  const map: PhotoMap = photoMap(homography(surface.toIdealPx), surface.lens);
  const [cos, sin] = [Math.cos(frame.angle), Math.sin(frame.angle)];
  const [ox, oy] = frame.origin;
  const fromPlane = ([x, y]: Vertex): Vertex => [cos * (x - ox) + sin * (y - oy), -sin * (x - ox) + cos * (y - oy)];
  return {
    ...frame,
    unit: 'mm',
    toPhoto: (x, y) => toPhotoPixel(map, surfacePoint(ox + cos * x - sin * y, oy + sin * x + cos * y)),
    fromPlane,
    zone: surface.zoneMm.map(fromPlane),
  };
}

function wholePhoto({ width, height }: { readonly width: number; readonly height: number }): PictureFrame {
  return {
    unit: 'px',
    origin: [0, 0],
    angle: 0,
    width,
    height,
    toPhoto: (x, y) => [x, y],
    fromPlane: (point) => point,
    zone: null,
  };
}
