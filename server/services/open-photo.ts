import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { referenceCard } from '../measure/card/card-layout.ts';
import { readCardValues } from '../measure/card/read-card-values.ts';
import type { CardValues } from '../measure/card/read-card-values.ts';
import type { PhotoQuestion } from '../measure/read-surface.ts';
import { readCard } from '../measure/view-surface.ts';
import type { VisionKernel } from '../measure/vision-kernel.ts';
import type { PhotoDecoder } from './ports.ts';

export interface OpenPhotoTools {
  readonly decoder: PhotoDecoder;
  readonly kernel: VisionKernel;
}

/** A decoded photo with what the card in it says: all of a question but the zone. */
export type OpenedPhoto = Omit<PhotoQuestion, 'zone'>;

export async function openPhoto(
  file: Uint8Array,
  cardValues: CardValues | null,
  { decoder, kernel }: OpenPhotoTools,
): Promise<Outcome<OpenedPhoto>> {
  const decoding = await decoder.decode(file);
  if (!decoding.ok) return decoding;
  const { raster: photo, sha256 } = decoding.value;
  const card = readCard(photo, cardValues, kernel);
  if (!card.ok) return card;
  return success({ photo, sha256, card: card.value, isMeasuredCard: cardValues !== null });
}

/** The measured patches of the current card from CGATS text; none given is none. */
export const cardValuesOf = (text: string | null): Outcome<CardValues | null> =>
  text === null ? success(null) : readCardValues(text, referenceCard());
