import type { Viewer } from 'openseadragon';
import { useEffect } from 'react';
import { follow } from './deep-zoom.ts';
import type { PictureFrame } from './picture-frame.ts';
import { fitSimilarity } from './plane-geometry.ts';
import type { Point, Similarity } from './plane-geometry.ts';

export interface PairAlignment {
  readonly toBefore: Similarity;
  readonly toAfter: Similarity;
  /** False where the zone's corners do not tie the photos together and they are shown as taken. */
  readonly isTrue: boolean;
}

/**
 * How before and after lie on each other: by the corners of the zone, which are the same spots of steel in both photos. A
 * turn, a zoom and a shift; what perspective leaves over is a few hundredths of the zone at usual tilts.
 */
export function alignPair(before: PictureFrame, after: PictureFrame): PairAlignment {
  const [from, to] = [after.zonePx, before.zonePx];
  const isTied = from !== null && to !== null && from.length === to.length;
  const toBefore = isTied ? fitSimilarity(from, to) : null;
  const toAfter = isTied ? fitSimilarity(to, from) : null;
  if (toBefore !== null && toAfter !== null) return { toBefore, toAfter, isTrue: true };
  return { toBefore: asTaken(after, before), toAfter: asTaken(before, after), isTrue: false };
}

/** Middle on middle, width on width. */
function asTaken(from: PictureFrame, to: PictureFrame): Similarity {
  const zoom = to.widthPx / from.widthPx;
  return {
    zoom,
    turnRadians: 0,
    apply: ([x, y]): Point => [
      to.widthPx / 2 + zoom * (x - from.widthPx / 2),
      to.heightPx / 2 + zoom * (y - from.heightPx / 2),
    ],
  };
}

/** Whichever photo is moved takes the other one with it. */
export function useLinkedViewers(before: Viewer | null, after: Viewer | null, alignment: PairAlignment | null): void {
  useEffect(() => {
    if (before === null || after === null || alignment === null) return undefined;
    let isFollowing = false;
    const lead = (leader: Viewer, follower: Viewer, map: Similarity) => (): void => {
      if (isFollowing) return;
      isFollowing = true;
      follow(follower, leader, map);
      isFollowing = false;
    };
    let led: 'before' | 'after' = 'after';
    const afterLeads = lead(after, before, alignment.toBefore);
    const beforeLeads = lead(before, after, alignment.toAfter);
    const onAfter = (): void => {
      if (led === 'after') afterLeads();
    };
    const onBefore = (): void => {
      if (led === 'before') beforeLeads();
    };
    const takeAfter = (): void => {
      led = 'after';
    };
    const takeBefore = (): void => {
      led = 'before';
    };
    const grips = ['canvas-press', 'canvas-scroll', 'canvas-key', 'canvas-pinch'] as const;
    for (const grip of grips) {
      after.addHandler(grip, takeAfter);
      before.addHandler(grip, takeBefore);
    }
    after.addHandler('update-viewport', onAfter);
    before.addHandler('update-viewport', onBefore);
    afterLeads();
    return () => {
      for (const grip of grips) {
        after.removeHandler(grip, takeAfter);
        before.removeHandler(grip, takeBefore);
      }
      after.removeHandler('update-viewport', onAfter);
      before.removeHandler('update-viewport', onBefore);
    };
  }, [before, after, alignment]);
}
