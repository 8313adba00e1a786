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

/** Part of the free strip beside the card that the first outline takes, each way. */
const STRIP_PART = 0.7;

/** Where the corners stand when the card is seen: in the largest strip beside it. */
export function outlineBeside(card: readonly Point[], { widthPx, heightPx }: PhotoSize): Point[] {
  const [xs, ys] = [card.map(([x]) => x), card.map(([, y]) => y)];
  const strips = [
    [0, 0, Math.min(...xs), heightPx],
    [Math.max(...xs), 0, widthPx, heightPx],
    [0, 0, widthPx, Math.min(...ys)],
    [0, Math.max(...ys), widthPx, heightPx],
  ] as const;
  const area = ([x0, y0, x1, y1]: (typeof strips)[number]): number => Math.max(0, x1 - x0) * Math.max(0, y1 - y0);
  const [x0, y0, x1, y1] = strips.reduce((best, strip) => (area(strip) > area(best) ? strip : best));
  const [left, right] = [mix(x0, x1, (1 - STRIP_PART) / 2), mix(x0, x1, (1 + STRIP_PART) / 2)];
  const [top, low] = [mix(y0, y1, (1 - STRIP_PART) / 2), mix(y0, y1, (1 + STRIP_PART) / 2)];
  return [
    [left, top],
    [right, top],
    [right, low],
    [left, low],
  ];
}

const mix = (from: number, to: number, part: number): number => from + (to - from) * part;

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
