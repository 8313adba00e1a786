import type { ComparedSide } from '@domain/api/comparisons.ts';
import type { PictureLight } from '@domain/picture-light.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { pictureFrame } from '../../viewer/picture-frame.ts';
import type { Point } from '../../viewer/plane-geometry.ts';

/** One side as it can be shown beside others. */
export interface SideView {
  readonly photo: { readonly id: string; readonly widthPx: number; readonly heightPx: number };
  readonly outline: readonly Point[] | null;
  /** Shows it in true colour; null where it is shown as taken. */
  readonly light: PictureLight | null;
}

/** Null until the photo's size is known. */
export function useSideView(side: ComparedSide): SideView | null {
  const { assessmentId, photoId, outline } = side;
  const photo = useAnswer('readPhoto', { params: { photoId } }, { staleTime: Infinity });
  const sent = assessmentId === null ? null : { params: { assessmentId } };
  const assessment = useAnswer('readAssessment', sent, { staleTime: 60_000 });
  if (photo.data === undefined || (assessmentId !== null && assessment.data === undefined)) return null;
  const drawn = outline !== null && 'polygonPx' in outline ? outline.polygonPx : null;
  const frame = assessment.data === undefined ? null : pictureFrame(assessment.data, 'after');
  const { id, widthPx, heightPx } = photo.data;
  return {
    photo: { id, widthPx, heightPx },
    outline: frame?.zonePx ?? drawn,
    light: assessment.data?.classMaps.after?.light ?? null,
  };
}
