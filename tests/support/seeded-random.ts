/** Small seeded random source (mulberry32), 0..1. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export const seededNormal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** Log-normal: `median` times e to the `deviation` times a normal number. */
export const seededWithin = (random: () => number, median: number, deviation: number): number =>
  median * Math.exp(deviation * seededNormal(random));

export const seededPick = <T>(random: () => number, from: readonly T[]): T =>
  from[Math.min(from.length - 1, Math.floor(random() * from.length))];
