import { useQuery } from '@tanstack/react-query';
import type { ComparedSide } from '@domain/api/comparisons.ts';
import type { ZoneAssessment } from '@domain/api/assessments.ts';
import { urlOf } from '../../api/call.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { bareLuminance, lightGain } from '../../viewer/bare-light.ts';
import { loadClassMap } from '../../viewer/class-map.ts';
import { pictureFrame } from '../../viewer/picture-frame.ts';
import type { Point } from '../../viewer/plane-geometry.ts';

/** One side as it can be shown beside others. */
export interface SideView {
  readonly photo: { readonly id: string; readonly widthPx: number; readonly heightPx: number };
  readonly outline: readonly Point[] | null;
  /** Factor on its light; null where it is shown as taken. */
  readonly gain: number | null;
}

/** Null until the photo's size is known. */
export function useSideView(side: ComparedSide): SideView | null {
  const { assessmentId, photoId, outline } = side;
  const photo = useAnswer('readPhoto', { params: { photoId } }, { staleTime: Infinity });
  const sent = assessmentId === null ? null : { params: { assessmentId } };
  const assessment = useAnswer('readAssessment', sent, { staleTime: 60_000 });
  const gain = useGain(assessment.data);
  if (photo.data === undefined || (assessmentId !== null && assessment.data === undefined)) return null;
  const drawn = outline !== null && 'polygonPx' in outline ? outline.polygonPx : null;
  const frame = assessment.data === undefined ? null : pictureFrame(assessment.data, 'after');
  const { id, widthPx, heightPx } = photo.data;
  return { photo: { id, widthPx, heightPx }, outline: frame?.zonePx ?? drawn, gain: gain ?? null };
}

function useGain(assessment: ZoneAssessment | undefined): number | null | undefined {
  const lightness = assessment?.result?.after.appearance.lightness?.value ?? null;
  const gain = useQuery({
    queryKey: ['light gain', assessment?.id],
    queryFn: ({ signal }) =>
      assessment === undefined || lightness === null ? null : gainOf(assessment, lightness, signal),
    enabled: assessment !== undefined && lightness !== null,
    staleTime: Infinity,
  });
  return gain.data;
}

async function gainOf(assessment: ZoneAssessment, lightness: number, signal: AbortSignal): Promise<number | null> {
  const { id, photos } = assessment;
  const map = await loadClassMap(urlOf('readClassMap', { params: { assessmentId: id, map: 'after' } }), signal);
  const response = await fetch(urlOf('readDisplay', { params: { photoId: photos.after } }), { signal });
  const picture = await createImageBitmap(await response.blob());
  const context = new OffscreenCanvas(map.width, map.height).getContext('2d', { willReadFrequently: true });
  if (context === null) return null;
  context.drawImage(picture, 0, 0, map.width, map.height);
  picture.close();
  const luminance = bareLuminance(context.getImageData(0, 0, map.width, map.height).data, map);
  return luminance === null ? null : lightGain(lightness, luminance);
}
