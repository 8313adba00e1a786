import { normalProbabilityBelow } from '../../domain/normal-distribution.ts';
import { type LogMinutes } from './log-minutes.ts';

/**
 * Part of the prior's variance that lies between zones of one kind in one shop, as pooling takes it: where zones are few
 * this decides, later they tell it themselves.
 */
const BETWEEN_ZONES = 0.4;
/**
 * How far the spread between zones may lie from that, deviation of its logarithm: within a factor of e, 19 in 20. Spreads
 * above it weigh more in the mean variance, which leaves room for luck in finding the setting: in simulated shops of other
 * laws half of the next zones lay within the inner half, 96 % within the outer range.
 */
const SPREAD_DEVIATION = 0.5;
/** Spreads between zones that are weighed, in equal ratios over three deviations either way. */
const SPREAD_STEPS = 25;

/** What the next zone of a kind should take. */
export interface ZonePrediction {
  /** Minutes below which a share of such zones stays. */
  readonly quantile: (share: number) => number;
  /** Deviation of the logarithm between zones of the shop, and of what is not known of their mean. */
  readonly betweenZones: number;
  readonly ofMean: number;
}

interface Component {
  readonly weight: number;
  readonly mean: number;
  readonly meanVariance: number;
  readonly between: number;
}

/**
 * Hierarchical: the logarithm of a zone's minutes is the shop's own mean plus a deviation of the zone. The mean starts
 * where common practice puts it; each treated zone is one measurement of it, and together they tell how far zones differ.
 * Exact for the mean, on a grid for the spread between zones. Source: [GELMAN2013], 5.4.
 *
 * @param usual one zone by common practice alone
 * @param zones minutes that earlier zones took
 */
export function predictZone(usual: LogMinutes, zones: readonly LogMinutes[]): ZonePrediction {
  const components = weighed(
    Array.from({ length: SPREAD_STEPS }, (_, step) => {
      const offset = (6 * step) / (SPREAD_STEPS - 1) - 3;
      const between = usual.deviation * Math.sqrt(BETWEEN_ZONES) * Math.exp(SPREAD_DEVIATION * offset);
      return componentOf(between, -0.5 * offset ** 2, { usual, zones });
    }),
  );
  const mean = (of: (component: Component) => number): number =>
    components.reduce((sum, component) => sum + component.weight * of(component), 0);
  const below = (log: number): number =>
    mean((c) => normalProbabilityBelow((log - c.mean) / Math.hypot(c.between, Math.sqrt(c.meanVariance))));
  return {
    quantile: (share) =>
      Math.exp(
        rootOf(
          (log) => below(log) - share,
          mean((c) => c.mean),
          usual.deviation,
        ),
      ),
    betweenZones: mean((c) => c.between),
    ofMean: mean((c) => Math.sqrt(c.meanVariance)),
  };
}

/** One spread between zones: the shop's mean under it, and how well it fits what zones took (a log weight). */
function componentOf(
  between: number,
  logPrior: number,
  { usual, zones }: { usual: LogMinutes; zones: readonly LogMinutes[] },
): Component {
  let [mean, variance, logWeight] = [usual.mean, (1 - BETWEEN_ZONES) * usual.deviation ** 2, logPrior];
  for (const zone of zones) {
    const noise = between ** 2 + zone.deviation ** 2;
    const total = variance + noise;
    logWeight += -0.5 * Math.log(total) - (0.5 * (zone.mean - mean) ** 2) / total;
    const gain = variance / total;
    mean += gain * (zone.mean - mean);
    variance *= 1 - gain;
  }
  return { weight: logWeight, mean, meanVariance: variance, between };
}

/** Log weights to weights that sum to 1. */
function weighed(components: readonly Component[]): Component[] {
  const most = Math.max(...components.map(({ weight }) => weight));
  const total = components.reduce((sum, { weight }) => sum + Math.exp(weight - most), 0);
  return components.map((component) => ({ ...component, weight: Math.exp(component.weight - most) / total }));
}

const HALVINGS = 40;
/** Deviations of the usual spread around the middle within which a quantile lies. */
const REACH = 8;

/** Where a rising function crosses nought. */
function rootOf(rising: (x: number) => number, middle: number, deviation: number): number {
  let [low, high] = [middle - REACH * deviation, middle + REACH * deviation];
  for (let step = 0; step < HALVINGS; step++) {
    const x = (low + high) / 2;
    if (rising(x) < 0) low = x;
    else high = x;
  }
  return (low + high) / 2;
}
