import type { Outline } from '@domain/api/photos.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { distance } from '../../viewer/plane-geometry.ts';

export interface PhotoSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Most corners a hand can keep apart on a phone. */
export const MOST_CORNERS = 8;
const LEAST_CORNERS = 3;

/** Where the corners stand before anybody moved them: a rectangle in the middle, well inside the picture. */
export const firstOutline = ({ widthPx, heightPx }: PhotoSize): Point[] => [
  [0.3 * widthPx, 0.3 * heightPx],
  [0.7 * widthPx, 0.3 * heightPx],
  [0.7 * widthPx, 0.7 * heightPx],
  [0.3 * widthPx, 0.7 * heightPx],
];

export const cornersOf = (outline: Outline | null): Point[] | null =>
  outline !== null && 'polygonPx' in outline ? outline.polygonPx : null;

/** The outline with one corner moved; a corner never leaves the photo. */
export function moveCorner(corners: readonly Point[], index: number, [x, y]: Point, size: PhotoSize): Point[] {
  const inside: Point = [Math.min(size.widthPx, Math.max(0, x)), Math.min(size.heightPx, Math.max(0, y))];
  return corners.map((corner, each) => (each === index ? inside : corner));
}

/** A further corner in the middle of the longest edge. */
export function addCorner(corners: readonly Point[]): Point[] {
  if (corners.length >= MOST_CORNERS) return [...corners];
  const lengths = corners.map((corner, index) => distance(corner, corners[(index + 1) % corners.length]));
  const longest = lengths.indexOf(Math.max(...lengths));
  const [a, b] = [corners[longest], corners[(longest + 1) % corners.length]];
  return corners.toSpliced(longest + 1, 0, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
}

/** Takes out the corner that shapes the outline least: the one nearest to the line between its neighbours. */
export function removeCorner(corners: readonly Point[]): Point[] {
  if (corners.length <= LEAST_CORNERS) return [...corners];
  const bulges = corners.map((corner, index) => {
    const before = corners[(index + corners.length - 1) % corners.length];
    const after = corners[(index + 1) % corners.length];
    const [ex, ey] = [after[0] - before[0], after[1] - before[1]];
    return Math.abs(ex * (corner[1] - before[1]) - ey * (corner[0] - before[0])) / Math.hypot(ex, ey);
  });
  return corners.toSpliced(bulges.indexOf(Math.min(...bulges)), 1);
}
