import type { StreakKind } from '../../server/domain/index.ts';
import { octaveNoise } from './lattice-noise.ts';
import type { Dice } from './lattice-noise.ts';

const STRIPE_SHAPES = ['sine', 'square', 'saw', 'ragged'] as const;
const STRIPE_FILMS = ['oxide', 'stain', 'rust', 'scale'] as const;

/** How stripes lie on a test surface; lengths in mm, angles in degrees in the card frame. */
export interface Stripes {
  readonly kind: StreakKind;
  readonly shape: (typeof STRIPE_SHAPES)[number];
  readonly film: (typeof STRIPE_FILMS)[number];
  readonly pitchMm: number;
  readonly directionDegrees: number;
  /** Dark share of a period (sine: of no effect); of seams and bands the width is in `widthsMm`. */
  readonly duty: number;
  readonly softness: number;
  readonly jitter: number;
  readonly bendPerMm: number;
  readonly zigzag: number;
  readonly swathMm: number;
  readonly unevenness: number;
  readonly covers: 'all' | 'half' | 'patch';
  readonly contrast: number;
  /** Places across, of seams and bands: centre and width. */
  readonly lines: readonly { readonly centreMm: number; readonly widthMm: number }[];
}

export function drawStripes(random: Dice, kind: StreakKind, given: Partial<Stripes> = {}): Stripes {
  const pitchMm = given.pitchMm ?? (kind === 'line-pitch' ? random.logBetween(1.5, 30) : random.between(38, 110));
  return {
    kind,
    shape: random.pick(STRIPE_SHAPES),
    film: random.pick(STRIPE_FILMS),
    directionDegrees: random.between(0, 180),
    duty: random.between(0.2, 0.6),
    softness: random.between(0.1, 0.9),
    jitter: random.between(0, 0.1),
    bendPerMm: random.chance(0.3) ? random.normal() / 900 : 0,
    zigzag: kind === 'line-pitch' && random.chance(0.15) ? random.between(0.2, 0.9) : 0,
    swathMm: random.logBetween(50, 180),
    unevenness: random.between(0, 0.7),
    covers: kind === 'line-pitch' && random.chance(0.2) ? random.pick(['half', 'patch']) : 'all',
    contrast: random.logBetween(1.5, 14),
    lines: kind === 'line-pitch' ? [] : drawLines(random, kind, pitchMm),
    ...given,
    pitchMm,
  };
}

/** Places from -250 to 250 mm about the middle of the zone: seams one scan width apart, or bands of any width and distance. */
function drawLines(random: Dice, kind: StreakKind, pitchMm: number): Stripes['lines'] {
  const lines: { centreMm: number; widthMm: number }[] = [];
  if (kind === 'swath-seam') {
    const first = random.between(-0.45, 0.45) * pitchMm;
    const width = random.between(1.6, 7);
    for (let n = -7; n <= 7; n++) {
      lines.push({
        centreMm: first + n * pitchMm * (1 + 0.02 * random.normal()) + random.normal() * 0.02 * pitchMm,
        widthMm: width * random.between(0.8, 1.2),
      });
    }
    return lines;
  }
  const typical = random.logBetween(7, 26);
  let at = -250 + random.between(0, 60);
  while (at < 250) {
    const widthMm = typical * random.logBetween(0.5, 1.8);
    lines.push({ centreMm: at + widthMm / 2, widthMm });
    at += widthMm + typical * random.logBetween(0.6, 3);
  }
  return lines;
}

/** 0 ground to 1 stripe at a place in mm from the middle of the zone. */
export function stripeProfile(random: Dice, stripes: Stripes): (x: number, y: number) => number {
  const angle = (stripes.directionDegrees * Math.PI) / 180;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const wander = octaveNoise(random, { largest: 6 * stripes.pitchMm, smallest: 2 * stripes.pitchMm, fade: 0.6 });
  const uneven = octaveNoise(random, { largest: 50, smallest: 10, fade: 0.6 });
  const ragged = octaveNoise(random, { largest: 3, smallest: 0.8, fade: 0.8 });
  const cover = coverShare(random, stripes);
  const shifts = Array.from({ length: 512 }, () => random.normal() * stripes.jitter * 0.6);
  const across0 = random.between(0, 1);
  const rough = stripes.shape === 'ragged' ? 0.28 : 0.05;
  return (x, y) => {
    const along = x * cos + y * sin;
    const across = y * cos - x * sin + (stripes.bendPerMm / 2) * along * along;
    const depth =
      stripes.kind === 'line-pitch'
        ? periodDepth(stripes, across / stripes.pitchMm + across0 + 0.6 * stripes.jitter * wander(x, y), {
            lean: stripes.zigzag * swathPlace(along / stripes.swathMm),
            shifts,
          })
        : lineDepth(stripes, across + 0.3 * wander(x, y));
    const noisy = Math.min(1, Math.max(0, depth + rough * ragged(x, y) * (depth > 0.02 && depth < 0.98 ? 1 : 0.4)));
    return noisy * cover(x, y) * Math.min(1.1, Math.max(0.2, 1 + 0.4 * stripes.unevenness * uneven(x, y)));
  };
}

const swathPlace = (turns: number): number => turns - Math.floor(turns) - 0.5;

function periodDepth(stripes: Stripes, place: number, stroke: { lean: number; shifts: readonly number[] }): number {
  if (stripes.shape === 'sine' && stripes.zigzag === 0) return 0.5 - 0.5 * Math.cos(2 * Math.PI * place);
  const base = Math.floor(place);
  let deepest = 0;
  for (let k = base - 1; k <= base + 1; k++) {
    const centre = k + 0.5 + stroke.shifts[k & 511] + stroke.lean * (k & 1 ? 1 : -1);
    const off = (place - centre) / (stripes.duty / 2);
    const soft = Math.max(0.12, stripes.softness);
    // A saw falls slowly on one side: its dark side trails off over the whole width.
    const side = stripes.shape === 'saw' ? (off > 0 ? 1.6 * soft + 0.4 : 0.15) : soft;
    deepest = Math.max(deepest, Math.min(1, Math.max(0, 0.5 + (1 - Math.abs(off)) / side)));
  }
  return deepest;
}

function lineDepth(stripes: Stripes, across: number): number {
  let deepest = 0;
  for (const { centreMm, widthMm } of stripes.lines) {
    const inside = widthMm / 2 - Math.abs(across - centreMm);
    const soft = Math.max(
      0.3,
      stripes.softness * (stripes.kind === 'swath-seam' ? widthMm / 2 : Math.min(6, widthMm / 2)),
    );
    deepest = Math.max(deepest, Math.min(1, Math.max(0, 0.5 + inside / soft)));
  }
  return deepest;
}

function coverShare(random: Dice, stripes: Stripes): (x: number, y: number) => number {
  if (stripes.covers === 'all') return () => 1;
  const turn = random.between(0, 2 * Math.PI);
  if (stripes.covers === 'half') {
    const offset = random.between(-8, 8);
    return (x, y) => Math.min(1, Math.max(0, 0.5 + (x * Math.cos(turn) + y * Math.sin(turn) - offset) / 12));
  }
  const radius = random.between(38, 60);
  const cx = random.between(-20, 20);
  const cy = random.between(-20, 20);
  return (x, y) => Math.min(1, Math.max(0, 0.5 + (radius - Math.sqrt((x - cx) ** 2 + (y - cy) ** 2)) / 10));
}
