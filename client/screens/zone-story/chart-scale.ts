/** Upper ends that a share axis may have. */
const TOPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 1] as const;
const STEPS = 4;

/** The smallest axis that holds a share, with its ticks. */
export function chartScale(highest: number): { readonly top: number; readonly ticks: readonly number[] } {
  const top = TOPS.find((each) => highest <= each) ?? 1;
  return { top, ticks: Array.from({ length: STEPS + 1 }, (_, index) => (top * index) / STEPS) };
}
