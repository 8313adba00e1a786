import type { ColourError, LabD50, ReferenceCard } from '../domain/index.ts';
import { ciede2000 } from '../measure/colour/ciede2000.ts';

/** How far measured patches are from the card as drawn, CIEDE2000: median, 95th percentile (nearest rank) and largest. */
export function cardDrift(card: ReferenceCard, measured: ReadonlyMap<string, LabD50>): ColourError {
  const differences = card.patches
    .flatMap(({ id, nominal }) => {
      const lab = measured.get(id);
      return lab === undefined ? [] : [ciede2000(nominal.lab, lab)];
    })
    .sort((a, b) => a - b);
  if (differences.length === 0) throw new RangeError('Expected measured patches of this card but received none');
  const rank = (share: number): number => differences[Math.max(0, Math.ceil(share * differences.length) - 1)];
  return { median: rank(0.5), p95: rank(0.95), max: rank(1) };
}
