import type { TrialPatch } from './trial.ts';

/** Left off each side of a patch: the hand starts and stops there, and card and coupon are laid by eye. Common practice. */
const INSET_MM = 5;
/** Never more than this part of a side, so that small patches keep their middle. */
const MOST_INSET_PART = 0.25;

/**
 * The part of a patch that is read, as corners in the card frame, mm.
 *
 * @param couponAtMm the coupon's top left corner in the card frame
 */
export function trialPatchOutline(
  { leftMm, topMm, widthMm, heightMm }: Pick<TrialPatch, 'leftMm' | 'topMm' | 'widthMm' | 'heightMm'>,
  [x, y]: readonly [number, number],
): [number, number][] {
  const insetX = Math.min(INSET_MM, MOST_INSET_PART * widthMm);
  const insetY = Math.min(INSET_MM, MOST_INSET_PART * heightMm);
  const [left, right] = [x + leftMm + insetX, x + leftMm + widthMm - insetX];
  const [top, bottom] = [y + topMm + insetY, y + topMm + heightMm - insetY];
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}
