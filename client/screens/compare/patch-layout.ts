import type { Settings } from '@domain/settings.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import type { PhotoSize } from '../outline/outline-shape.ts';

export interface Patch {
  readonly name: string;
  readonly corners: readonly Point[];
  readonly settings: Settings | null;
}

const LETTERS = ['A', 'B', 'C', 'D', 'E', 'F'];
/** Where patches first stand: a row of columns, as coupons are usually cleaned; shares of the photo. */
const COLUMN = { first: 0.08, step: 0.15, width: 0.11, top: 0.35, bottom: 0.65 } as const;

/** A further patch beside those there are, under the first letter that is free. */
export function nextPatch(patches: readonly Patch[], { widthPx, heightPx }: PhotoSize): Patch {
  const taken = new Set(patches.map(({ name }) => name));
  const name = LETTERS.find((letter) => !taken.has(letter)) ?? `${patches.length + 1}`;
  const left = (COLUMN.first + COLUMN.step * patches.length) * widthPx;
  const right = left + COLUMN.width * widthPx;
  const [top, bottom] = [COLUMN.top * heightPx, COLUMN.bottom * heightPx];
  return {
    name,
    settings: null,
    corners: [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ],
  };
}

export function firstPatches(photo: PhotoSize): readonly Patch[] {
  const first = nextPatch([], photo);
  return [first, nextPatch([first], photo)];
}
