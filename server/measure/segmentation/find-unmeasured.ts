import type { LabPlanes } from '../colour/lab-planes.ts';
import { BLOCKED } from '../geometry/rectify-photo.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import type { ColourFeatures } from './colour-features.ts';

/** Brighter than this is brighter than white paper in the same light: mirrored light, not surface colour. L*. */
export const BRIGHTER_THAN_PAPER = 98;
/** A glint: this much brighter than what lies round it, bright in itself, and without colour of its own. */
const GLINT = { aboveSurroundings: 32, leastLightness: 76, mostChroma: 14 } as const;
/** So dark that nothing is left but noise. L*. */
const BLACKER_THAN_INK = 3;

/** Adds to `blocked` what the light made unreadable: glare, glints on wet rust, and deep shadow. */
export function findUnmeasured(lab: LabPlanes, features: ColourFeatures, zone: ByteMask, blocked: ByteMask): ByteMask {
  const { width, height } = zone;
  const out = byteMask(width, height);
  out.values.set(blocked.values);
  const blocksAcross = features.aroundL.width;
  for (let row = 0, index = 0; row < height; row++) {
    const blockRow = Math.floor(row / features.block) * blocksAcross;
    for (let column = 0; column < width; column++, index++) {
      if (zone.values[index] === 0 || out.values[index] !== 0) continue;
      const L = lab.L.values[index];
      if (L < BLACKER_THAN_INK) out.values[index] = BLOCKED.shadow;
      if (L < GLINT.leastLightness) continue;
      const around = features.aroundL.values[blockRow + Math.floor(column / features.block)];
      const isGlint =
        L > around + GLINT.aboveSurroundings && Math.hypot(lab.a.values[index], lab.b.values[index]) < GLINT.mostChroma;
      if (isGlint || L > BRIGHTER_THAN_PAPER) out.values[index] = BLOCKED.glare;
    }
  }
  return out;
}
