import type { CardInPhoto } from '../domain/api/photos.ts';
import { faultSentence, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { locateCard } from '../measure/card/locate-card.ts';
import type { OpenPhotoTools } from './open-photo.ts';

/**
 * Whether a card lies in a photo, before anything is measured: whoever took the photo is still beside the plate. A card that
 * cannot be used is an answer, not a fault.
 */
export async function lookForCard(
  file: Uint8Array,
  { decoder, kernel }: OpenPhotoTools,
): Promise<Outcome<CardInPhoto>> {
  const decoding = await decoder.decode(file);
  if (!decoding.ok) return decoding;
  const search = locateCard(decoding.value.raster, kernel);
  if (!search.ok) {
    const { fault } = search;
    return success({ cornersPx: null, fault: { code: fault.code, sentence: faultSentence(fault) } });
  }
  const cornersPx = search.value?.outline.map(([x, y]): [number, number] => [x, y]) ?? null;
  return success({ cornersPx, fault: null });
}
