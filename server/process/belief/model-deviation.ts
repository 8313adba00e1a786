/** What the model itself misses, as a part of sqrt(m (1 - m)); keeps a few rounds from looking like certainty. Chosen by the closed-loop test. */
const MODEL_PART = 0.05;

/** Deviation of a true residue share from the one that the removal model expects of the right surface. */
export const modelDeviation = (expected: number): number =>
  MODEL_PART * Math.sqrt(expected * (1 - Math.min(1, expected)));
