/** Steps that people read easily. Common practice. */
const STEPS = [1, 2, 2.5, 5, 10];
const WANTED = 4;

/**
 * Ticks from nought to the first one at or above the highest value, about four steps of 1, 2, 2.5 or 5 times a power of ten.
 *
 * @param highest 0 or more; with 0 the axis reaches 1
 */
export function niceTicks(highest: number): readonly number[] {
  const wanted = (highest > 0 ? highest : 1) / WANTED;
  const decade = 10 ** Math.floor(Math.log10(wanted));
  const step = (STEPS.find((each) => each * decade >= wanted * (1 - 1e-9)) ?? 10) * decade;
  const count = Math.max(1, Math.ceil((highest > 0 ? highest : 1) / step - 1e-9));
  return Array.from({ length: count + 1 }, (_, index) => Number((index * step).toPrecision(6)));
}
