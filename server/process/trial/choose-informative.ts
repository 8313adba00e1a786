import { defaultResidueDeviation } from '../belief/measured-residue.ts';

/** A setting that could be tried, with the residue it would leave on each surface that is believed possible. */
export interface Tryable {
  readonly residues: Float64Array;
}

/**
 * Picks settings whose outcomes tell most about the surface: greedily, each next one is the least certain given the photos
 * of those already picked (greatest conditional variance over its photo's variance, which for normal outcomes is the
 * greatest gain of information). Covariances are taken over the sample. Source: [KRAUSE2008] for the greedy choice.
 *
 * @returns indices into `tryables`, most telling first
 */
export function chooseInformative(tryables: readonly Tryable[], count: number): number[] {
  const noise = tryables.map(({ residues }) => defaultResidueDeviation(mean(residues)) ** 2);
  const covariance = covariances(tryables.map(({ residues }) => centred(residues)));
  const picked: number[] = [];
  while (picked.length < Math.min(count, tryables.length)) {
    const best = leastCertain(covariance, noise, picked);
    picked.push(best);
    const column = covariance[best].slice();
    const total = column[best] + noise[best];
    covariance.forEach((row, i) => {
      for (let j = 0; j < row.length; j++) row[j] -= (column[i] * column[j]) / total;
    });
  }
  return picked;
}

function leastCertain(
  covariance: readonly Float64Array[],
  noise: readonly number[],
  picked: readonly number[],
): number {
  const open = noise.map((_, index) => index).filter((index) => !picked.includes(index));
  return open.reduce((best, next) =>
    covariance[next][next] / noise[next] > covariance[best][best] / noise[best] ? next : best,
  );
}

const mean = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;

function centred(values: Float64Array): Float64Array {
  const middle = mean(values);
  return values.map((value) => value - middle);
}

const covariances = (vectors: readonly Float64Array[]): Float64Array[] =>
  vectors.map((a) => Float64Array.from(vectors, (b) => a.reduce((sum, value, i) => sum + value * b[i], 0) / a.length));
