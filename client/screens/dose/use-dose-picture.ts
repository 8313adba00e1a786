import { useMemo } from 'react';
import type { DosePicture, DoseRequest } from '@domain/dose.ts';
import { dosePicture } from '@domain/dose/dose-picture.ts';
import { faultSentence } from '@domain/fault-sentence.ts';

export interface DrawnDose {
  readonly picture: DosePicture | null;
  /** Why there is no picture, as a sentence. */
  readonly refusal: string | null;
}

/** The picture of the dials as they stand, reckoned here and now: nothing is asked of the server. */
export function useDosePicture({ settings, machine, lengthMm, speedTrace, surface }: DoseRequest): DrawnDose {
  const asked = JSON.stringify({ settings, machine, lengthMm, speedTrace, surface });
  return useMemo(() => {
    const drawing = dosePicture(JSON.parse(asked) as DoseRequest);
    return drawing.ok
      ? { picture: drawing.value, refusal: null }
      : { picture: null, refusal: faultSentence(drawing.fault) };
  }, [asked]);
}
