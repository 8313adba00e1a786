import type { SurfaceKind } from '../surface-kind-words.ts';

/** A positive quantity known within a factor: its median, and the standard deviation of its natural logarithm. */
export interface WithinFactor {
  readonly median: number;
  readonly lnDeviation: number;
}

/**
 * What is believed about a surface before it is worked on; every part is weak and every part may be replaced, for
 * example by what earlier zones of the same shop showed.
 */
export interface RemovalPrior {
  /** Stroke bite at which half of the elements begin to give way. */
  readonly thresholdJPerCm2: WithinFactor;
  /** Spread of the elements' thresholds, as a deviation of the logarithm: smooth film low, pitted rust high. */
  readonly thresholdSpread: WithinFactor;
  /** Areal energy that thins well-bitten elements to 1/e. */
  readonly energyJPerCm2: WithinFactor;
  /** Shape of the thinning: 1 is exponential; above 1 the film holds first and then goes together. */
  readonly shape: WithinFactor;
  /** Bite = fluence x dwell^(exponent - 1): 1 is fluence per stroke, 0.5 is peak temperature. Evenly between the two ends. */
  readonly biteExponent: { readonly least: number; readonly most: number };
  /** Chance that some part is much harder than the rest, and the most of the surface that this part may be. */
  readonly resistantPart: { readonly chance: number; readonly mostShare: number };
  /** How much harder that part is, as a factor on the median threshold, and the chance that it never yields at all. */
  readonly resistantStep: WithinFactor & { readonly neverChance: number };
  /** What earlier zones of the shop moved: middle and deviation of each parameter in the space where the rest is N(0, 1). */
  readonly learned?: { readonly mean: Float64Array; readonly deviation: Float64Array };
}

const SHARED = {
  // From exponential thinning to a film of even thickness that holds until it goes.
  shape: { median: 1.6, lnDeviation: 0.55 },
  biteExponent: { least: 0.45, most: 1.1 },
  resistantStep: { median: 3, lnDeviation: 0.8, neverChance: 0.5 },
} as const;

/**
 * Priors by kind of surface. Levels lie inside the published continuous-wave window for mill scale (dwell 30-400 us at
 * 50-750 kW/cm2, so 1.5 to 300 J/cm2 a stroke) [DESCALING]; what is light and what is heavy within it, and all areal
 * energies, are common practice (a 2 kW line cleaning 4-15 m2/h of light rust spends 50-180 J/cm2). Hence the large
 * deviations: a factor of two and more either way.
 */
const PRIORS: Readonly<Record<SurfaceKind, RemovalPrior>> = {
  'light rust': {
    ...SHARED,
    thresholdJPerCm2: { median: 6, lnDeviation: 0.7 },
    thresholdSpread: { median: 0.4, lnDeviation: 0.4 },
    energyJPerCm2: { median: 15, lnDeviation: 0.8 },
    resistantPart: { chance: 0.1, mostShare: 1 },
  },
  'heavy pitted rust': {
    ...SHARED,
    thresholdJPerCm2: { median: 14, lnDeviation: 0.7 },
    thresholdSpread: { median: 0.6, lnDeviation: 0.4 },
    energyJPerCm2: { median: 35, lnDeviation: 0.8 },
    resistantPart: { chance: 0.2, mostShare: 1 },
  },
  'mill scale': {
    ...SHARED,
    thresholdJPerCm2: { median: 18, lnDeviation: 0.7 },
    thresholdSpread: { median: 0.35, lnDeviation: 0.4 },
    energyJPerCm2: { median: 35, lnDeviation: 0.8 },
    resistantPart: { chance: 0.25, mostShare: 1 },
  },
  'tight oxide': {
    ...SHARED,
    thresholdJPerCm2: { median: 45, lnDeviation: 1 },
    thresholdSpread: { median: 0.3, lnDeviation: 0.4 },
    energyJPerCm2: { median: 50, lnDeviation: 0.8 },
    // Often it resists even eight to ten passes. Common practice.
    resistantPart: { chance: 0.7, mostShare: 1 },
    resistantStep: { ...SHARED.resistantStep, neverChance: 0.85 },
  },
  paint: {
    ...SHARED,
    thresholdJPerCm2: { median: 8, lnDeviation: 0.7 },
    thresholdSpread: { median: 0.4, lnDeviation: 0.4 },
    energyJPerCm2: { median: 35, lnDeviation: 0.8 },
    resistantPart: { chance: 0.15, mostShare: 1 },
  },
  unknown: {
    ...SHARED,
    thresholdJPerCm2: { median: 12, lnDeviation: 1.2 },
    thresholdSpread: { median: 0.45, lnDeviation: 0.45 },
    energyJPerCm2: { median: 28, lnDeviation: 0.8 },
    resistantPart: { chance: 0.25, mostShare: 1 },
  },
};

/** @param override parts that are known better, for example pooled over the shop's earlier zones */
export const removalPriorOf = (kind: SurfaceKind, override: Partial<RemovalPrior> = {}): RemovalPrior => ({
  ...PRIORS[kind],
  ...override,
});
