import { type ResidueReading, type Round } from '../../domain/index.ts';

/** A residue share with the deviation of its error. */
export interface MeasuredResidue {
  readonly share: number;
  readonly deviation: number;
}

/** Half width of a 95 % interval in deviations. Source: the normal distribution. */
export const DEVIATIONS_AT_95 = 1.96;

/** Error taken when no interval is given: 0.6 % points plus 8 % of the share, the order of a photo with the card in view. */
const DEFAULT_DEVIATION = { fixed: 0.006, perShare: 0.08 };
/** No photo is better than this, whatever interval was written down. */
const LEAST_DEVIATION = 0.002;

export const defaultResidueDeviation = (share: number): number =>
  DEFAULT_DEVIATION.fixed + DEFAULT_DEVIATION.perShare * share;

/** Residue after a round; one bound alone is mirrored. */
export const residueAfter = ({ after }: Pick<Round, 'after'>): MeasuredResidue => measuredResidue(after);

/** Share and deviation of a reading; one bound alone is mirrored. */
export function measuredResidue({ residueFraction: share, low, high }: ResidueReading): MeasuredResidue {
  const below = low === undefined ? undefined : share - low;
  const above = high === undefined ? undefined : high - share;
  if (below === undefined && above === undefined) return { share, deviation: defaultResidueDeviation(share) };
  const half =
    below === undefined || above === undefined
      ? (below ?? above ?? 0)
      : Math.max((below + above) / 2, share <= 0 ? above : 0);
  return { share, deviation: Math.max(LEAST_DEVIATION, half / DEVIATIONS_AT_95) };
}

/** The 95 % interval that decides about the target: the one given, else the default error around the share. */
export function residueInterval(reading: ResidueReading): { low: number; high: number } {
  const { share, deviation } = measuredResidue(reading);
  const half = DEVIATIONS_AT_95 * deviation;
  return {
    low: reading.low ?? Math.max(0, share - half),
    high: reading.high ?? Math.min(1, share + half),
  };
}

/**
 * Residue before each round. The first has its own photo alone. Later ones start from what the rounds before left, by
 * those rounds and their photos; a photo taken anew is weighed in, while the photo of the round before has been already.
 */
export function residueBefore(rounds: readonly Round[], index: number, left: MeasuredResidue): MeasuredResidue {
  const share = rounds[index].before.residueFraction;
  const own = { share, deviation: defaultResidueDeviation(share) };
  if (index === 0) return own;
  if (share === rounds[index - 1].after.residueFraction) return left;
  const gain = left.deviation ** 2 / (left.deviation ** 2 + own.deviation ** 2);
  return { share: left.share + gain * (share - left.share), deviation: left.deviation * Math.sqrt(1 - gain) };
}
