import type { ZoneAssessment } from '@domain/api/assessments.ts';
import type { PhotoRole } from '@domain/api/photos.ts';
import { invertMap, mapOfCorners, mapPoint } from './plane-geometry.ts';
import type { PlaneMap, Point } from './plane-geometry.ts';

/** How one photo of an assessment lies on the surface. */
export interface PictureFrame {
  readonly photoId: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** From photo pixels to millimetres; null without a card, or where the two are not tied together. */
  readonly toMm: PlaneMap | null;
  readonly fromMm: PlaneMap | null;
  /** Corners of the zone in the photo; null when they are not known here, or when all but the card was judged. */
  readonly zonePx: readonly Point[] | null;
}

/**
 * The frame of a photo. Millimetres come from the class map's own plane map, else from the four corners of a zone that is
 * known both in pixels and in millimetres.
 */
export function pictureFrame(assessment: ZoneAssessment, role: PhotoRole): PictureFrame | null {
  const photoId = assessment.photos[role];
  const photo = assessment.result?.photos[role] ?? null;
  if (photoId === null || photo === null) return null;
  const toMm = photo.card.found ? (planeOfClassMap(assessment, role) ?? planeOfCorners(assessment, role)) : null;
  const fromMm = toMm === null ? null : invertMap(toMm);
  const { widthPx, heightPx } = photo;
  return { photoId, widthPx, heightPx, toMm, fromMm, zonePx: zoneInPhoto(assessment, role, fromMm) };
}

function planeOfClassMap(assessment: ZoneAssessment, role: PhotoRole): PlaneMap | null {
  const map: ({ photoPxPerPixel: number } & { planeFromMap?: readonly number[] }) | null = assessment.classMaps[role];
  if (map?.planeFromMap === undefined) return null;
  const { photoPxPerPixel, planeFromMap } = map;
  return planeFromMap.map((element, index) => (index % 3 === 2 ? element : element / photoPxPerPixel));
}

/** The result states the after zone in millimetres only; the before photo may have its own card position. */
function planeOfCorners(assessment: ZoneAssessment, role: PhotoRole): PlaneMap | null {
  const outline = assessment.basis.outlines[role];
  const cornersMm = assessment.result?.zone.polygonMm ?? null;
  if (role === 'before' || outline === null || !('polygonPx' in outline) || cornersMm === null) return null;
  return mapOfCorners(outline.polygonPx, cornersMm);
}

function zoneInPhoto(assessment: ZoneAssessment, role: PhotoRole, fromMm: PlaneMap | null): readonly Point[] | null {
  const outline = assessment.basis.outlines[role];
  if (outline === null) return null;
  if ('polygonPx' in outline) return outline.polygonPx;
  if (fromMm === null) return null;
  const corners = outline.polygonMm.map((corner) => mapPoint(fromMm, corner));
  return corners.every((corner) => corner !== null) ? corners : null;
}

/** Corners in the photo of a square of the surface, turned in the card's frame. */
export function squareInPhoto(
  { fromMm }: Pick<PictureFrame, 'fromMm'>,
  square: { readonly centreMm: Point; readonly sideMm: number; readonly turnRadians: number },
): readonly Point[] | null {
  if (fromMm === null) return null;
  const { centreMm, sideMm, turnRadians } = square;
  const [c, s] = [(Math.cos(turnRadians) * sideMm) / 2, (Math.sin(turnRadians) * sideMm) / 2];
  const offsets = [
    [s - c, -s - c],
    [c + s, s - c],
    [c - s, s + c],
    [-c - s, c - s],
  ];
  const corners = offsets.map(([dx, dy]) => mapPoint(fromMm, [centreMm[0] + dx, centreMm[1] + dy]));
  return corners.every((corner) => corner !== null) ? corners : null;
}
