import { failure, faultSentence, success } from '../domain/index.ts';
import type { GaugePhotos, GaugeQuantity, GaugeStudy, Outcome, Surface, Zone } from '../domain/index.ts';
import type { Sha256 } from '../evidence/ports.ts';
import { assessPhotos } from './assess-photos.ts';
import type { AssessTools } from './assess-photos.ts';

export interface GaugePhotoTools extends AssessTools {
  readonly sha256: Sha256;
  /** A photo by the name that the study gives it. */
  readonly readPhoto: (name: string) => Promise<Outcome<Uint8Array>>;
  readonly readZone: (text: string | undefined) => Promise<Outcome<Zone | null>>;
}

export interface MeasuredGauge {
  readonly study: GaugeStudy;
  /** Names of photos without a card in view. */
  readonly withoutCard: readonly string[];
}

/**
 * Measures the photos of a gauge study, each anew: every operator photographs every zone several times, and the spread of
 * what comes out is the spread of the whole way from hand and phone to number.
 */
export async function measureGaugePhotos(
  { quantity, toleranceWidth, photos }: GaugePhotos,
  tools: GaugePhotoTools,
): Promise<Outcome<MeasuredGauge>> {
  const measurements: GaugeStudy['measurements'] = [];
  const withoutCard: string[] = [];
  const seen = new Map<string, string>();
  for (const { operator, zone, photo, outline } of photos) {
    const refuse = (detail: string): Outcome<MeasuredGauge> => failure({ code: 'gauge-photo-refused', photo, detail });
    const file = await tools.readPhoto(photo);
    if (!file.ok) return file;
    const hash = tools.sha256(file.value);
    const twin = seen.get(hash);
    if (twin !== undefined) return refuse(`It is the same file as ${twin}, so it repeats nothing; take another photo.`);
    seen.set(hash, photo);
    const place = await tools.readZone(outline);
    if (!place.ok) return refuse(faultSentence(place.fault));
    const reading = await assessPhotos({ ...ONE_PHOTO, after: file.value, zone: place.value }, tools);
    if (!reading.ok) return refuse(faultSentence(reading.fault));
    const { after, photos: shown } = reading.value.assessment;
    const value = valueOf(after, quantity);
    if (value === null) return refuse(`It tells nothing of "${quantity}": is the card in view?`);
    if (!shown.after.card.found) withoutCard.push(photo);
    measurements.push({ operator, zone, value });
  }
  const study: GaugeStudy = { schema: 'bareplate/gauge-study@1', quantity, toleranceWidth, measurements };
  return success({ study, withoutCard });
}

const ONE_PHOTO = { before: null, zoneBefore: null, cardValues: null, settings: null, target: null } as const;

function valueOf({ residue, fractions, worstUnitArea, appearance }: Surface, quantity: GaugeQuantity): number | null {
  switch (quantity) {
    case 'residueFraction':
      return residue.value;
    case 'stainFraction':
      return fractions.stain.value;
    case 'worstSquareResidueFraction':
      return worstUnitArea?.residueFraction ?? null;
    case 'textureContrastDeltaE00':
      return appearance.textureContrast?.value ?? null;
  }
}
