import type { LineShape } from './line-shape.ts';
import type { StripProfiles } from './strip-profiles.ts';

/** How a line differs from both its flanks: darker, of more or of less chroma, lighter. The fourth is no film's way and shows texture. */
export const LINE_LOOKS = ['darker', 'more-chroma', 'less-chroma', 'lighter'] as const;
export type LineLook = (typeof LINE_LOOKS)[number];

/** The look that a texture's grooves have on their other side. */
export const OPPOSITE_LOOK: { readonly [look in LineLook]: LineLook } = {
  darker: 'lighter',
  'more-chroma': 'less-chroma',
  'less-chroma': 'more-chroma',
  lighter: 'darker',
};

/** A strip takes part where core and flanks are usable to this share. */
const LEAST_FILL = 0.45;

/** Depths of one place, strip by strip, one row per look; filled from the start by {@link readStripDepths}. */
export interface StripDepths {
  /** In the order of {@link LINE_LOOKS}: against the flank that is more like the line, dE00. */
  readonly nearer: readonly [Float64Array, Float64Array, Float64Array, Float64Array];
  /** Which strips they are. */
  readonly strip: Int32Array;
}

export const stripDepths = (strips: number): StripDepths => ({
  nearer: [new Float64Array(strips), new Float64Array(strips), new Float64Array(strips), new Float64Array(strips)],
  strip: new Int32Array(strips),
});

/** Reads a place in every strip that shows core and flanks; returns how many there are. */
export function readStripDepths(
  p: StripProfiles,
  bin: number,
  shape: LineShape,
  { nearer, strip }: StripDepths,
): number {
  const { half, gap, far } = shape;
  const { weight, lightness, chroma, bins, strips, fullBin } = p;
  const [darker, more, less, lighter] = nearer;
  const leastCore = LEAST_FILL * 2 * half * fullBin;
  const leastFlank = LEAST_FILL * (far - gap) * fullBin;
  let count = 0;
  for (let s = 0, at = bin; s < strips; s++, at += bins + 1) {
    const core = weight[at + half] - weight[at - half];
    const left = weight[at - gap] - weight[at - far];
    const right = weight[at + far] - weight[at + gap];
    if (core < leastCore || left < leastFlank || right < leastFlank) continue;
    const [coreL, leftL, rightL] = [
      (lightness[at + half] - lightness[at - half]) / core,
      (lightness[at - gap] - lightness[at - far]) / left,
      (lightness[at + far] - lightness[at + gap]) / right,
    ];
    const [coreC, leftC, rightC] = [
      (chroma[at + half] - chroma[at - half]) / core,
      (chroma[at - gap] - chroma[at - far]) / left,
      (chroma[at + far] - chroma[at + gap]) / right,
    ];
    darker[count] = (leftL < rightL ? leftL : rightL) - coreL;
    lighter[count] = coreL - (leftL < rightL ? rightL : leftL);
    more[count] = coreC - (leftC < rightC ? rightC : leftC);
    less[count] = (leftC < rightC ? leftC : rightC) - coreC;
    strip[count] = s;
    count++;
  }
  return count;
}
