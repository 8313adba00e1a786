/**
 * The longest of 1, 2, 5, 10, 20, 50 ... that is not longer than `most`: the usual steps of a scale bar. Common practice.
 *
 * @param most positive
 */
export function niceLength(most: number): number {
  const decade = 10 ** Math.floor(Math.log10(most));
  const step = [5, 2, 1].find((each) => each * decade <= most * (1 + 1e-9)) ?? 1;
  return step * decade;
}
