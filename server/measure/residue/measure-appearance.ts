import { CLASS_CODE, fraction, measured } from '../../domain/index.ts';
import type { Appearance, Measured } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { maskedMean } from '../raster/masked-mean.ts';
import type { ByteMask } from '../raster/plane.ts';
import { heatTintShare } from './heat-tint.ts';
import type { TextureNoise } from './card-noise.ts';
import { plainSteel } from './plain-steel.ts';
import { spreadWindows } from './spread-windows.ts';
import { textureOf } from './texture-contrast.ts';

export interface AppearanceInput {
  readonly lab: LabPlanes;
  /** CLASS_CODE per pixel. */
  readonly codes: ByteMask;
  /** 1 inside the zone. */
  readonly zone: ByteMask;
  /** mm per pixel; null without a card, and then no band in mm can be judged. */
  readonly stepMm: number | null;
  /** Standard deviation of L* that the colour correction leaves. */
  readonly lightnessSigma: number;
  /** Texture that noise alone makes at a lightness; none when unknown. */
  readonly noiseAt: (lightness: number) => TextureNoise;
}

const LEAST_BARE_SHARE = 0.01;
const LEAST_BARE_PIXELS = 400;
const Z = 1.96;

/** How the bare part looks: lightness, fine texture, heat tint. */
export function measureAppearance(input: AppearanceInput): Appearance {
  const heatTintFraction = fraction(heatTintShare(input.lab, input.codes));
  let count = 0;
  let total = 0;
  let sum = 0;
  for (let i = 0; i < input.codes.values.length; i++) {
    if (input.codes.values[i] !== 0) total++;
    if (input.codes.values[i] !== CLASS_CODE.bare) continue;
    count++;
    sum += input.lab.L.values[i];
  }
  if (count < LEAST_BARE_PIXELS || count < LEAST_BARE_SHARE * total) {
    return { lightness: null, textureContrast: null, heatTintFraction };
  }
  const mean = sum / count;
  const spread = Z * input.lightnessSigma;
  const lightness = measured(mean, mean - spread, mean + spread);
  if (input.stepMm === null) return { lightness, textureContrast: null, heatTintFraction };
  return { lightness, textureContrast: steelTexture({ ...input, stepMm: input.stepMm }), heatTintFraction };
}

/** Texture of the steel itself less the noise's, as squares; noise is that at the lightness where the texture was taken. */
function steelTexture({ lab, codes, zone, stepMm, noiseAt }: AppearanceInput & { stepMm: number }): Measured | null {
  const windows = spreadWindows({ lab, codes, zone, stepMm });
  const steel = plainSteel(windows);
  const texture = steel === null ? null : textureOf({ lab: windows.lab, mask: steel, stepMm });
  if (steel === null || texture === null) return null;
  const noise = noiseAt(maskedMean(windows.lab.L.values, steel));
  const square = Math.max(0, texture.square - noise.square);
  const half = Z * Math.hypot(texture.sigma, noise.sigma);
  return measured(Math.sqrt(square), Math.sqrt(Math.max(0, square - half)), Math.sqrt(square + half));
}
