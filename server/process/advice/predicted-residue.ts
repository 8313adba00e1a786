import { measuredShare, type Measured } from '../../domain/index.ts';
import { modelDeviation } from '../belief/model-deviation.ts';
import { haltonNormal } from '../belief/halton.ts';

/** Median and central 95 % of the residues over the sample, with what the model itself misses. */
export function predictedResidue(residues: Float64Array): Measured {
  const missed = haltonNormal(residues.length, 1);
  const sorted = residues
    .map((residue, surface) => Math.min(1, Math.max(0, residue + modelDeviation(residue) * missed[surface])))
    .sort();
  const at = (share: number): number => {
    const place = share * (sorted.length - 1);
    const below = Math.floor(place);
    const above = Math.min(sorted.length - 1, below + 1);
    return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
  };
  return measuredShare(at(0.5), at(0.025), at(0.975));
}
