import type { ClassMap } from '@domain/paint-class-map.ts';
import { CLASS_CODE } from '@domain/surface.ts';

/** Luminance of each linear sRGB primary. Source: [IEC61966-2-1]. */
const LUMINANCE = [0.2126, 0.7152, 0.0722] as const;
/** Fewer bare pixels than this say nothing about the light. Chosen by hand. */
const LEAST_PIXELS = 200;
/** A photo further off than this is no longer the same picture when its light is changed. Chosen by hand. */
const MOST_GAIN = 3;

const linearOf = (code: number): number => {
  const value = code / 255;
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
};

/**
 * Mean luminance of the bare steel as the phone wrote it, 0..1, for a picture of the size of the class map.
 *
 * @param rgba 8-bit sRGB, four values a pixel
 * @returns null with too little bare steel
 */
export function bareLuminance(rgba: Uint8ClampedArray, { codes }: Pick<ClassMap, 'codes'>): number | null {
  let [sum, count] = [0, 0];
  for (let index = 0; index < codes.length; index++) {
    if (codes[index] !== CLASS_CODE.bare) continue;
    sum += LUMINANCE.reduce((luminance, part, channel) => luminance + part * linearOf(rgba[4 * index + channel]), 0);
    count++;
  }
  return count < LEAST_PIXELS ? null : sum / count;
}

/**
 * Factor on the light of a photo that shows its bare steel at the lightness that was measured under the card's light.
 * Lightness is that of CIE L* with the white at 1. Source: [CIE15].
 *
 * @param lightness measured CIE L* of the bare steel, 0..100
 * @returns null where no sensible factor brings it there
 */
export function lightGain(lightness: number, luminance: number): number | null {
  const wanted = lightness > 8 ? ((lightness + 16) / 116) ** 3 : (lightness * 27) / 24389;
  const gain = wanted / luminance;
  return gain > 1 / MOST_GAIN && gain < MOST_GAIN ? gain : null;
}
