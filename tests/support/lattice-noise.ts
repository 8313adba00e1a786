/**
 * Seeded numbers and smooth noise for test surfaces, kept apart from the fixtures' own noise: detectors that are judged
 * on both are not tuned to either.
 */
export interface Dice {
  /** 0..1 */
  readonly next: () => number;
  readonly between: (low: number, high: number) => number;
  readonly logBetween: (low: number, high: number) => number;
  readonly normal: () => number;
  readonly chance: (share: number) => boolean;
  readonly pick: <T>(items: readonly T[]) => T;
  readonly key: () => number;
}

/** Weyl sequence with a mixing step (splitmix form, 32 bit; from memory). */
export function dice(seed: number): Dice {
  let state = Math.imul(seed ^ 0x5bd1e995, 0x27d4eb2f) >>> 0;
  const whole = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    return mix(state);
  };
  const next = (): number => whole() / 4294967296;
  const between = (low: number, high: number): number => low + (high - low) * next();
  return {
    next,
    between,
    logBetween: (low, high) => Math.exp(between(Math.log(low), Math.log(high))),
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
    chance: (share) => next() < share,
    pick: (items) => items[Math.floor(next() * items.length)],
    key: whole,
  };
}

function mix(value: number): number {
  let z = value;
  z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
  z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
  return (z ^ (z >>> 16)) >>> 0;
}

const SIDE = 256;
const tables = new Map<number, Float32Array>();

/** A square of white noise, variance 1, repeated over the plane; tables are kept for a few keys. */
function noiseTable(key: number): Float32Array {
  const known = tables.get(key);
  if (known !== undefined) return known;
  if (tables.size > 40) tables.clear();
  const table = new Float32Array(SIDE * SIDE);
  for (let i = 0; i < table.length; i++) {
    table[i] = (mix((Math.imul(i, 0x9e3779b9) ^ key) >>> 0) / 4294967296 - 0.5) * 3.464;
  }
  tables.set(key, table);
  return table;
}

/** Smooth noise at a place in lattice cells; mean 0, standard deviation about 0.6 away from the nodes. */
export function latticeNoise(key: number): (x: number, y: number) => number {
  const table = noiseTable(key);
  const mask = SIDE - 1;
  return (x, y) => {
    const i = Math.floor(x);
    const j = Math.floor(y);
    const u = x - i;
    const v = y - j;
    const su = u * u * (3 - 2 * u);
    const sv = v * v * (3 - 2 * v);
    const top = (j & mask) * SIDE;
    const low = ((j + 1) & mask) * SIDE;
    const left = i & mask;
    const right = (i + 1) & mask;
    const a = table[top + left] + (table[top + right] - table[top + left]) * su;
    const b = table[low + left] + (table[low + right] - table[low + left]) * su;
    return a + (b - a) * sv;
  };
}

/** Sum of octaves from `largest` down to `smallest` cell, units; `fade` is the amplitude ratio between octaves. Variance about 1. */
export function octaveNoise(
  random: Dice,
  sizes: { largest: number; smallest: number; fade: number },
): (x: number, y: number) => number {
  const octaves: {
    noise: (x: number, y: number) => number;
    scale: number;
    weight: number;
    cos: number;
    sin: number;
  }[] = [];
  let weight = 1;
  let power = 0;
  for (let size = sizes.largest; size >= sizes.smallest || octaves.length === 0; size /= 2) {
    const turn = random.between(0, 2 * Math.PI);
    octaves.push({
      noise: latticeNoise(random.key()),
      scale: 1 / size,
      weight,
      cos: Math.cos(turn),
      sin: Math.sin(turn),
    });
    power += weight * weight;
    weight *= sizes.fade;
  }
  const norm = 1 / (0.6 * Math.sqrt(power));
  return (x, y) => {
    let sum = 0;
    for (const o of octaves) {
      sum += o.weight * o.noise((x * o.cos - y * o.sin) * o.scale, (x * o.sin + y * o.cos) * o.scale);
    }
    return sum * norm;
  };
}
