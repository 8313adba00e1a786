import { CLASS_CODE } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import type { ByteMask } from '../raster/plane.ts';

/**
 * Interference colours of thin oxide on clean steel run straw, brown, purple, blue. Straw and brown alone look like stain;
 * purple and blue do not occur otherwise on steel, so a tint is only spoken of where there is some of them.
 * Limits in Lab D50 from memory of temper-colour charts: common practice, no temperature is derived.
 */
const BLUE_TO_PURPLE = { lowest: (235 * Math.PI) / 180, highest: (340 * Math.PI) / 180, leastChroma: 9 } as const;
const STRAW_TO_BROWN = { lowest: (55 * Math.PI) / 180, highest: (100 * Math.PI) / 180, leastChroma: 14 } as const;
const LIGHTNESS = { least: 32, most: 88 } as const;
/** Least share of the measured part that is blue or purple before straw counts with it. */
const LEAST_BLUE_SHARE = 0.002;

/** Share of the measured part with straw-to-blue interference colours, 0..1. A caution only. */
export function heatTintShare(lab: LabPlanes, codes: ByteMask): number {
  let measured = 0;
  let blue = 0;
  let straw = 0;
  for (let i = 0; i < codes.values.length; i++) {
    const code = codes.values[i];
    if (code === 0) continue;
    measured++;
    if (code !== CLASS_CODE.bare && code !== CLASS_CODE.stain) continue;
    const L = lab.L.values[i];
    if (L < LIGHTNESS.least || L > LIGHTNESS.most) continue;
    const a = lab.a.values[i];
    const b = lab.b.values[i];
    const chroma = Math.hypot(a, b);
    if (chroma < BLUE_TO_PURPLE.leastChroma) continue;
    const hue = Math.atan2(b, a);
    const turned = hue < 0 ? hue + 2 * Math.PI : hue;
    if (turned >= BLUE_TO_PURPLE.lowest && turned <= BLUE_TO_PURPLE.highest) blue++;
    else if (
      chroma >= STRAW_TO_BROWN.leastChroma &&
      turned >= STRAW_TO_BROWN.lowest &&
      turned <= STRAW_TO_BROWN.highest
    ) {
      straw++;
    }
  }
  if (measured === 0) return 0;
  return blue / measured >= LEAST_BLUE_SHARE ? (blue + straw) / measured : 0;
}
