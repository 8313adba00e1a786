import { referenceCard } from '../../server/measure/card/card-layout.ts';
import { cardFields } from '../../server/measure/colour/card-fields.ts';
import { linearOfLab } from '../../server/measure/colour/known-colour.ts';
import type { PatchSample } from '../../server/measure/colour/sample-patches.ts';

type Rgb = readonly [number, number, number];

/** How a camera turns the light of a field of the card into decoded codes. */
export type Camera = (light: Rgb, at: readonly [x: number, y: number]) => Rgb;

/** Samples of every field of the card as a camera would give them: no noise, nothing clipped. */
export function samplesUnder(camera: Camera): PatchSample[] {
  return cardFields(referenceCard(), null).map(({ id, family, area, lab }) => {
    const centreMm = [area.x + area.width / 2, area.y + area.height / 2] as const;
    return {
      id,
      family,
      centreMm,
      lab,
      decoded: camera(linearOfLab(lab), centreMm),
      scatter: 0.01,
      clippedShare: 0,
    };
  });
}

export const withSample = (
  samples: readonly PatchSample[],
  id: string,
  change: (sample: PatchSample) => Partial<PatchSample>,
): PatchSample[] => samples.map((sample) => (sample.id === id ? { ...sample, ...change(sample) } : sample));
