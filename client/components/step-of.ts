export interface Dial {
  readonly min: number;
  readonly max: number;
  readonly step: number;
}

/** Decimals that a dial may have; keeps 0.1 + 0.2 off the screen. */
const GRAIN = 1e6;

/**
 * The value so many steps further on the dial. Steps are whole multiples of the step, as the machine's own are; a value
 * between two steps first goes to the next one in the direction of the turn. An end of the dial may itself be set.
 */
export function stepOf(value: number, steps: number, { min, max, step }: Dial): number {
  const place = Math.round((value / step) * GRAIN) / GRAIN;
  const from = steps > 0 ? Math.floor(place) : Math.ceil(place);
  const next = Math.round((from + steps) * step * GRAIN) / GRAIN;
  return Math.min(max, Math.max(min, next));
}
