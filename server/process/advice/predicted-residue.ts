import { measuredShare, type Measured } from '../../domain/index.ts';

/** Median and central 95 % of the residues over the sample. */
export function predictedResidue(residues: Float64Array): Measured {
  const sorted = residues.slice().sort();
  const at = (share: number): number => {
    const place = share * (sorted.length - 1);
    const below = Math.floor(place);
    const above = Math.min(sorted.length - 1, below + 1);
    return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
  };
  return measuredShare(at(0.5), at(0.025), at(0.975));
}
