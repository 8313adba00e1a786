import { weighByTrees } from '../evidence-trees.ts';
import type { BandTexture, EvenTexture } from './even-texture.ts';
import { TEXTURE_TREES } from './texture-trees.ts';

export interface TexturesApart {
  /** Logarithm of the ratio of the first to the second, as far as it can be told; below 0 the first is smoother. */
  readonly apart: number;
  /** What chance and the place in the photo make of `apart` for two of one texture: nine in ten stay within. */
  readonly chance: number;
}

/**
 * How far the textures of two patches of one photo are apart. Blur, sharpening and noise weaken or lift both alike, so that
 * the ratio in each band tells; how much each band tells depends on blur and noise, and what is seen of a texture depends on
 * veiling light, on unevenness and on how much of the steel lies plain. A sum of small trees weighs all that, asked both ways
 * round, so that swapping the patches swaps the answer.
 * Source: gradient boosting of the squared error [FRIEDMAN2001]; fitted by models/train/compare/fit-textures.py.
 */
export function texturesApart(first: EvenTexture, second: EvenTexture): TexturesApart {
  const weighed = (a: EvenTexture, b: EvenTexture): number => weighByTrees(TEXTURE_TREES, signsApart(a, b));
  return {
    apart: (weighed(first, second) - weighed(second, first)) / 2,
    chance: CHANCE * Math.sqrt(1 + CELLS_SHARED * (1 / first.cells + 1 / second.cells)),
  };
}

/**
 * What halves of one patch and patches treated alike differ by where their cells are many, and number of cells that scatter as
 * much; chosen on comparison sheets of the renderer.
 */
const CHANCE = 0.042;
const CELLS_SHARED = 49;

/** Steel this light shines back more than the photo can show, L*. */
const OVERBRIGHT_L = 80;
/** The finer bands: the coarsest has little noise in any photo. */
const NOISY_BANDS = 2;

/** In the order in which TEXTURE_TREES ask: differences, then what both share. */
function signsApart(first: EvenTexture, second: EvenTexture): number[] {
  const apart = (of: (texture: EvenTexture) => number): number => of(first) - of(second);
  return [
    ...first.bands.map((band, k) => logSquare(band) - logSquare(second.bands[k])),
    apart(({ unevenness }) => unevenness),
    apart(({ plainPart }) => Math.log(plainPart)),
    apart(({ stainPart }) => stainPart),
    apart(({ lightness }) => lightness),
    apart(({ lightness }) => Math.max(0, lightness - OVERBRIGHT_L)),
    apart(({ blurMm }) => blurMm),
    Math.sqrt(first.blurMm * second.blurMm),
    Math.min(1, (noisier(first, second, 0) + noisier(first, second, 1)) / NOISY_BANDS),
  ];
}

/** Part of the noise within which it may be wrong, and a square that is next to none, CIEDE2000 squared. */
const NOISE_PART = 0.2;
const LEAST_SQUARE = 0.003;

/** Logarithm of what the noise leaves, levelling off where it leaves none. */
function logSquare({ square, noise }: BandTexture): number {
  const left = square - noise;
  return Math.log((left + Math.hypot(left, NOISE_PART * noise + LEAST_SQUARE)) / 2);
}

/** Noise as part of all that is seen in a band, of the patch where it is more. */
const noisier = (first: EvenTexture, second: EvenTexture, band: 0 | 1): number =>
  Math.max(...[first, second].map(({ bands }) => bands[band].noise / Math.max(1e-9, bands[band].square)));
