import type { ZoneAssessment } from '@domain/api/assessments.ts';
import type { PhotoRole } from '@domain/api/photos.ts';
import type { WorstUnitArea } from '@domain/surface.ts';
import { invertMap, mapPoint } from './plane-geometry.ts';
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

/** The frame of a photo; millimetres come from the plane map of its class map. */
export function pictureFrame(assessment: ZoneAssessment, role: PhotoRole): PictureFrame | null {
  const photoId = assessment.photos[role];
  const photo = assessment.result?.photos[role] ?? null;
  if (photoId === null || photo === null) return null;
  const toMm = photo.card.found ? planeOfClassMap(assessment, role) : null;
  const fromMm = toMm === null ? null : invertMap(toMm);
  const { widthPx, heightPx } = photo;
  return { photoId, widthPx, heightPx, toMm, fromMm, zonePx: zoneInPhoto(assessment, role, fromMm) };
}

function planeOfClassMap(assessment: ZoneAssessment, role: PhotoRole): PlaneMap | null {
  const map = assessment.classMaps[role];
  if (map === null) return null;
  const { photoPxPerPixel, planeFromMap } = map;
  return planeFromMap.map((element, index) => (index % 3 === 2 ? element : element / photoPxPerPixel));
}

function zoneInPhoto(assessment: ZoneAssessment, role: PhotoRole, fromMm: PlaneMap | null): readonly Point[] | null {
  const outline = assessment.basis.outlines[role];
  if (outline === null) return null;
  if ('polygonPx' in outline) return outline.polygonPx;
  if (fromMm === null) return null;
  const corners = outline.polygonMm.map((corner) => mapPoint(fromMm, corner));
  return corners.every((corner) => corner !== null) ? corners : null;
}

const RADIANS_PER_DEGREE = Math.PI / 180;

/** Corners in the photo of the worst square. Null without millimetres, or where an older program did not say how it lies. */
export function worstInPhoto(
  { fromMm }: Pick<PictureFrame, 'fromMm'>,
  { centreMm, sideMm, turnDegrees }: WorstUnitArea,
): readonly Point[] | null {
  if (fromMm === null || turnDegrees === undefined) return null;
  const turn = turnDegrees * RADIANS_PER_DEGREE;
  const [c, s] = [(Math.cos(turn) * sideMm) / 2, (Math.sin(turn) * sideMm) / 2];
  const offsets = [
    [s - c, -s - c],
    [c + s, s - c],
    [c - s, s + c],
    [-c - s, c - s],
  ];
  const corners = offsets.map(([dx, dy]) => mapPoint(fromMm, [centreMm[0] + dx, centreMm[1] + dy]));
  return corners.every((corner) => corner !== null) ? corners : null;
}

/** The streaks as found, in pixels of the after photo. */
export function linesInPhoto({
  streakLines,
  classMaps,
}: Pick<ZoneAssessment, 'streakLines' | 'classMaps'>): readonly (readonly Point[])[] {
  const grow = classMaps.after?.photoPxPerPixel ?? 1;
  return streakLines.map((line) => line.map(([x, y]): Point => [x * grow, y * grow]));
}
