import type { Comparison, Measured } from '../domain/index.ts';
import type { SurfaceReading } from './read-surface.ts';
import { EVEN_BANDS, evenTexture } from './residue/even-texture.ts';
import type { EvenTexture } from './residue/even-texture.ts';
import { texturesApart } from './residue/textures-apart.ts';

type Pair = Comparison['pairs'][number];

/**
 * Two patches of one photo share its light, its colour correction and the segmenter's habits, so most of what makes one
 * share uncertain cancels in the difference. What is left is taken as this part of each interval: on comparison sheets of the
 * renderer it calls 98 % of the patches right that differ by 3 points, and tells one in forty equals apart.
 */
const OWN_PART = 0.25;
/** Texture as stored was taken on each patch by itself and nothing cancels; one in ten pairs of equals may be told apart. */
const TEXTURE_PART = 1.645 / 1.96;
/** Surfaces of different photos share nothing that cancels. */
export const SEVERAL_PHOTOS_PART = 1;
/** Smaller differences are not called, whatever the intervals say: half of what the eye is asked to tell apart. */
const LEAST_RESIDUE = 0.012;
const LEAST_TEXTURE_RATIO = 1.12;

/** Which of each two patches is cleaner and which is smoother, where the difference is larger than its uncertainty. */
export function comparePatches(patches: readonly Patch[], ownPart: number = OWN_PART): Pair[] {
  const sides = patches.map(([name, reading]): Side => ({ name, reading, even: evenTextureOf(reading) }));
  return sides.flatMap((first, i) => sides.slice(i + 1).map((second) => comparePair(first, second, ownPart)));
}

/** What was stored of a reading, or the reading itself with its pixels. */
type Reading = Pick<SurfaceReading, 'surface'> & Partial<Pick<SurfaceReading, 'raster' | 'view' | 'segmentation'>>;
type Patch = readonly [name: string, reading: Reading];

interface Side {
  readonly name: string;
  readonly reading: Reading;
  /** Null without pixels, without a card and where too little steel is bare. */
  readonly even: EvenTexture | null;
}

function evenTextureOf({ raster, view, segmentation }: Reading): EvenTexture | null {
  if (raster === undefined || view === undefined || segmentation === undefined) return null;
  return evenTexture({ raster, view, segmentation });
}

function comparePair({ name: a, ...first }: Side, { name: b, ...second }: Side, ownPart: number): Pair {
  const [{ surface }, { surface: other }] = [first.reading, second.reading];
  const residue = compareResidue(surface.residue, other.residue, ownPart);
  const isOnePhoto = first.reading.raster === second.reading.raster;
  const texture =
    isOnePhoto && first.even !== null && second.even !== null
      ? compareEvenTexture(first.even, second.even)
      : compareTexture(
          surface.appearance.textureContrast,
          other.appearance.textureContrast,
          Math.max(TEXTURE_PART, ownPart),
        );
  return {
    a,
    b,
    residue: residue.sign === 0 ? 'no real difference' : residue.sign < 0 ? 'a cleaner' : 'b cleaner',
    texture: texture.sign === 0 ? 'no real difference' : texture.sign < 0 ? 'a smoother' : 'b smoother',
    because: `${residue.words}; ${texture.words}.`,
  };
}

interface Called {
  /** Sign of the first less the second; 0 where it is not real. */
  readonly sign: number;
  readonly words: string;
}

function compareResidue(first: Measured, second: Measured, ownPart: number): Called {
  const difference = first.value - second.value;
  const doubt = ownPart * Math.hypot(halfWidth(first), halfWidth(second));
  const isReal = Math.abs(difference) > Math.max(LEAST_RESIDUE, doubt);
  const shares = `residue ${percent(first.value)} against ${percent(second.value)}`;
  return {
    sign: isReal ? Math.sign(difference) : 0,
    words: isReal
      ? shares
      : `${shares}, a difference within its uncertainty of ${percent(Math.max(LEAST_RESIDUE, doubt))}`,
  };
}

function compareTexture(first: Measured | null, second: Measured | null, ownPart: number): Called {
  if (first === null || second === null) return { sign: 0, words: 'texture cannot be compared: too little bare steel' };
  const values = `texture ${first.value.toFixed(2)} against ${second.value.toFixed(2)} CIEDE2000`;
  // Squares add and cancel where contrasts do not: noise was taken off them, and next to nothing has no sensible ratio.
  const difference = first.value ** 2 - second.value ** 2;
  const doubt = ownPart * Math.hypot(halfSquare(first), halfSquare(second));
  const ratio = Math.max(first.value, second.value) / Math.min(first.value, second.value);
  const isReal = Math.abs(difference) > doubt && ratio > LEAST_TEXTURE_RATIO;
  return {
    sign: isReal ? Math.sign(difference) : 0,
    words: isReal ? values : `${values}, a difference within its uncertainty`,
  };
}

/** Of patches of one photo, whose blur and noise are shared. */
function compareEvenTexture(first: EvenTexture, second: EvenTexture): Called {
  const { apart, chance } = texturesApart(first, second);
  const isReal = Math.abs(apart) > chance;
  const listed = ({ bands }: EvenTexture): string =>
    bands.map(({ square, noise }) => Math.sqrt(Math.max(0, square - noise)).toFixed(2)).join(', ');
  const values = `texture of the even steel ${listed(first)} against ${listed(second)} CIEDE2000 (${BANDS_IN_WORDS}), with blur, noise, light and unevenness weighed in`;
  return {
    sign: isReal ? Math.sign(apart) : 0,
    words: isReal ? values : `${values}, a difference within its uncertainty`,
  };
}

const BANDS_IN_WORDS = EVEN_BANDS.map(({ finestMm, coarsestMm }) => `${finestMm} to ${coarsestMm} mm`).join(', ');

/** Half of the interval of the square; its lower end may be cut off at none. */
const halfSquare = ({ value, high }: Measured): number => high ** 2 - value ** 2;
const halfWidth = ({ low, high }: Measured): number => (high - low) / 2;
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
