import type { Comparison, Measured } from '../domain/index.ts';
import type { SurfaceReading } from './read-surface.ts';

type Pair = Comparison['pairs'][number];

/**
 * Two patches of one photo share its light, its colour correction and the segmenter's habits, so most of what makes one
 * share uncertain cancels in the difference. What is left is taken as this part of each interval.
 */
const OWN_PART = 0.5;
/** Surfaces of different photos share nothing that cancels. */
export const SEVERAL_PHOTOS_PART = 1;
/** Smaller differences are not called, whatever the intervals say: half of what the eye is asked to tell apart. */
const LEAST_RESIDUE = 0.012;
const LEAST_TEXTURE_RATIO = 1.12;

/** Which of each two patches is cleaner and which is smoother, where the difference is larger than its uncertainty. */
export function comparePatches(patches: readonly Patch[], ownPart: number = OWN_PART): Pair[] {
  return patches.flatMap((first, i) => patches.slice(i + 1).map((second) => comparePair(first, second, ownPart)));
}

type Patch = readonly [name: string, reading: Pick<SurfaceReading, 'surface'>];

function comparePair([a, first]: Patch, [b, second]: Patch, ownPart: number): Pair {
  const residue = compareResidue(first.surface.residue, second.surface.residue, ownPart);
  const texture = compareTexture(
    first.surface.appearance.textureContrast,
    second.surface.appearance.textureContrast,
    ownPart,
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
  if (first.value <= 0 || second.value <= 0) {
    const isReal = first.low > second.high || second.low > first.high;
    return { sign: isReal ? Math.sign(first.value - second.value) : 0, words: values };
  }
  const ratio = Math.log(first.value / second.value);
  const doubt = ownPart * Math.hypot(halfWidth(first) / first.value, halfWidth(second) / second.value);
  const isReal = Math.abs(ratio) > Math.max(Math.log(LEAST_TEXTURE_RATIO), doubt);
  return {
    sign: isReal ? Math.sign(ratio) : 0,
    words: isReal ? values : `${values}, a difference within its uncertainty`,
  };
}

const halfWidth = ({ low, high }: Measured): number => (high - low) / 2;
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
