import { type Lever, type Settings } from '../../domain/index.ts';

/** Dials that differ by less than this part were meant to be the same. */
const SAME_PART = 0.01;

const isSame = (a: number, b: number): boolean => Math.abs(a - b) <= SAME_PART * Math.max(a, b);

/** Which single lever leads from one setting to another; anything else is a combination. */
export function leverOf(from: Settings, to: Settings): Lever {
  const changed = (['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const).filter(
    (dial) => !isSame(from[dial], to[dial]),
  );
  if (changed.length === 0 && to.passes > from.passes) return 'more passes';
  if (changed.length !== 1 || to.passes !== from.passes) return 'combination';
  const [dial] = changed;
  if (to[dial] >= from[dial]) return 'combination';
  switch (dial) {
    case 'scanFrequencyHz':
      return 'lower frequency';
    case 'scanWidthMm':
      return 'narrower width';
    case 'travelSpeedMmPerS':
      return 'slower travel';
    case 'powerW':
      return 'combination';
  }
}

/** Settings so alike that offering both would be no choice: same passes, every dial within this part. */
const ALIKE_PART = 0.15;

export const isNearDuplicate = (a: Settings, b: Settings): boolean =>
  a.passes === b.passes &&
  (['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const).every(
    (dial) => Math.abs(a[dial] - b[dial]) <= ALIKE_PART * Math.max(a[dial], b[dial]),
  );
