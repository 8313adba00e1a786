import { type Machine, type Settings } from '../../server/domain/index.ts';
import { seededPick, seededRandom, seededWithin } from './seeded-random.ts';

/**
 * Made-up surfaces to try the advice on, in many forms: what makes a stroke strong, how thresholds are spread, how much a
 * stroke takes off, what builds up between strokes. None is the advice's own model, none shares a formula file with it, and
 * none is meant as the truth about steel.
 */
export interface SurfaceLaw {
  /** fluence P/(d v); heat: irradiance times root of dwell; between: the geometric mean of both. */
  readonly bite: 'fluence' | 'heat' | 'between';
  /** How thresholds are spread over the elements. */
  readonly thresholds: 'log-normal' | 'Weibull' | 'two groups' | 'alike';
  /**
   *  - log depth: thickness taken off by a stroke grows with ln(bite / threshold), so deep strokes waste energy;
   *  - linear depth: with bite - threshold, at most a set depth;
   *  - chance: a stroke takes an element whole with a chance that rises above the threshold;
   *  - floor: residue relaxes with areal energy towards the share of elements whose threshold is not reached;
   *  - soft: residue decays with areal energy times 1 - exp(-(bite / threshold)^2), so nothing is ever quite too weak.
   */
  readonly removal: 'log depth' | 'linear depth' | 'chance' | 'floor' | 'soft';
  /** incubation: thresholds fall with the strokes seen (Jee, Becker and Walser 1988); heat: a warm plate helps the bite. */
  readonly memory: 'none' | 'incubation' | 'heat';
  /** Whether gaps open at the ends of the zig-zag, or strokes lie evenly. */
  readonly cover: 'zig-zag' | 'even';
}

const LAWS = {
  bite: ['fluence', 'heat', 'between'],
  thresholds: ['log-normal', 'Weibull', 'two groups', 'alike'],
  removal: ['log depth', 'linear depth', 'chance', 'floor', 'soft'],
  memory: ['none', 'none', 'incubation', 'heat'],
  cover: ['zig-zag', 'even'],
} as const;

export const REMOVAL_FORMS = LAWS.removal;

export const SIMULATED_KINDS = ['light rust', 'heavy pitted rust', 'mill scale', 'tight oxide', 'paint'] as const;
export type SimulatedKind = (typeof SIMULATED_KINDS)[number];

interface KindScale {
  /** Median threshold, J/cm2 at 60 us of dwell, and how far single surfaces lie from it (deviation of the logarithm). */
  readonly threshold: number;
  readonly thresholdDeviation: number;
  /** Areal energy that takes a middling element off with a well-chosen stroke, J/cm2. */
  readonly energy: number;
  readonly spread: number;
  /** Chance that a part never yields. */
  readonly resistantChance: number;
}

const KIND_SCALES: Readonly<Record<SimulatedKind, KindScale>> = {
  'light rust': { threshold: 4, thresholdDeviation: 0.5, energy: 30, spread: 0.3, resistantChance: 0.05 },
  'heavy pitted rust': { threshold: 10, thresholdDeviation: 0.5, energy: 90, spread: 0.6, resistantChance: 0.15 },
  'mill scale': { threshold: 15, thresholdDeviation: 0.5, energy: 60, spread: 0.3, resistantChance: 0.15 },
  'tight oxide': { threshold: 80, thresholdDeviation: 1, energy: 90, spread: 0.25, resistantChance: 0.5 },
  paint: { threshold: 6, thresholdDeviation: 0.5, energy: 80, spread: 0.4, resistantChance: 0.1 },
};

export interface SimulatedSurface {
  readonly residue: number;
  /** What is left of each element: thickness, or the chance that it is still there. */
  readonly left: Float64Array;
  readonly strokesSeen: number;
}

export interface SimulatedProcess {
  readonly law: SurfaceLaw;
  readonly start: SimulatedSurface;
  /** Treats a surface; `speedRatio` is real over intended hand speed. */
  readonly treat: (surface: SimulatedSurface, settings: Settings, speedRatio: number) => SimulatedSurface;
}

interface Stroke {
  readonly fluenceJPerCm2: number;
  readonly dwellUs: number;
  readonly strokes: number;
  readonly energyJPerCm2: number;
  /** Share of the surface that the round touches. */
  readonly touched: number;
}

function strokeOf(s: Settings, m: Machine, speedRatio: number, cover: SurfaceLaw['cover']): Stroke {
  const scan = s.scanWidthMm * s.scanFrequencyHz * m.strokesPerCycle;
  const travel = s.travelSpeedMmPerS * speedRatio;
  const pitch = travel / (s.scanFrequencyHz * m.strokesPerCycle);
  return {
    fluenceJPerCm2: (100 * s.powerW) / (m.spotDiameterMm * scan),
    dwellUs: (m.spotDiameterMm / scan) * 1e6,
    strokes: (s.passes * m.spotDiameterMm) / pitch,
    energyJPerCm2: (100 * s.powerW * s.passes) / (s.scanWidthMm * travel),
    touched: 1 - (1 - touchedByPass(m.spotDiameterMm / pitch, cover)) ** s.passes,
  };
}

/** Share that one pass touches when strokes of one spot width lie `1 / seen` spots apart on average. */
function touchedByPass(seen: number, cover: SurfaceLaw['cover']): number {
  if (cover === 'even') return Math.min(1, seen);
  let missed = 0;
  for (let step = 0.5; step < 20; step++) {
    const offset = step / 20;
    missed += (Math.max(0, 1 + offset - seen) + Math.max(0, 1 - offset - seen)) / 2 / 20;
  }
  return 1 - missed;
}

const BITE_EXPONENT = { fluence: 0, between: -0.25, heat: -0.5 } as const;
const DWELL_US = 60;
const ELEMENTS = 240;

export interface SimulationRequest {
  readonly kind: SimulatedKind;
  readonly seed: number;
  readonly machine: Machine;
  /** Parts of the law that are set; the others are drawn. */
  readonly law?: Partial<SurfaceLaw>;
  /** Multiplies every threshold: 1000 puts the work beyond any hand-held line. */
  readonly harder?: number;
  /** Share that never yields; drawn by kind when left out. */
  readonly resistant?: number;
  readonly energyScale?: number;
}

export function simulateProcess(request: SimulationRequest): SimulatedProcess {
  const { kind, machine, harder = 1, energyScale = 1 } = request;
  const random = seededRandom(7919 * request.seed + 131 * SIMULATED_KINDS.indexOf(kind) + 5);
  const scale = KIND_SCALES[kind];
  const law: SurfaceLaw = {
    bite: seededPick(random, LAWS.bite),
    thresholds: seededPick(random, LAWS.thresholds),
    removal: seededPick(random, LAWS.removal),
    memory: seededPick(random, LAWS.memory),
    cover: seededPick(random, LAWS.cover),
    ...request.law,
  };
  const threshold = seededWithin(random, scale.threshold, scale.thresholdDeviation) * harder;
  const energy = seededWithin(random, scale.energy, 0.6) * energyScale;
  const spread = seededWithin(random, scale.spread, 0.3);
  const startResidue = 0.65 + 0.33 * random();
  const isResistant = random() < scale.resistantChance;
  const drawnPart = 0.08 + 0.5 * random() ** 2;
  const resistant = request.resistant ?? (isResistant ? drawnPart : 0);
  const thresholds = Float64Array.from({ length: ELEMENTS }, () => threshold * drawRelative(law, spread, random));
  const thicknesses = Float64Array.from({ length: ELEMENTS }, () => seededWithin(random, 1, spread));
  const [incubation, warmth] = [0.02 + 0.1 * random(), 0.1 + 0.3 * random()];
  const floorAlways = startResidue * resistant;
  const isThickness = law.removal === 'log depth' || law.removal === 'linear depth';
  const residueOf = (left: Float64Array): number => {
    const still = left.reduce((sum, value) => sum + (isThickness ? (value > 0 ? 1 : 0) : value), 0) / ELEMENTS;
    return floorAlways + (startResidue - floorAlways) * still;
  };

  const treat = (surface: SimulatedSurface, settings: Settings, speedRatio: number): SimulatedSurface => {
    const stroke = strokeOf(settings, machine, speedRatio, law.cover);
    const seen = surface.strokesSeen + stroke.strokes;
    const eased = law.memory === 'incubation' ? seen ** -incubation : 1;
    const warmed = law.memory === 'heat' ? 1 + warmth * Math.min(1, stroke.energyJPerCm2 / settings.passes / 300) : 1;
    const bite = stroke.fluenceJPerCm2 * (stroke.dwellUs / DWELL_US) ** BITE_EXPONENT[law.bite] * warmed;
    const left = surface.left.map((value, element) =>
      REMOVALS[law.removal](value, { stroke, excess: bite / (thresholds[element] * eased), energy, threshold }),
    );
    const treated = Math.min(surface.residue, residueOf(left));
    const residue = stroke.touched * treated + (1 - stroke.touched) * surface.residue;
    return { residue, left, strokesSeen: seen };
  };
  const left = isThickness ? thicknesses : new Float64Array(ELEMENTS).fill(1);
  return { law, start: { residue: startResidue, left, strokesSeen: 0 }, treat };
}

interface Blow {
  readonly stroke: Stroke;
  /** Bite over the element's threshold. */
  readonly excess: number;
  readonly energy: number;
  readonly threshold: number;
}

/** What is left of an element after a round. Each form needs about `energy` at its best stroke to take one element off. */
const REMOVALS: Readonly<Record<SurfaceLaw['removal'], (left: number, blow: Blow) => number>> = {
  'log depth': (left, { stroke, excess, energy }) =>
    // e ln(x) / x is 1 at its best, x = e.
    excess <= 1 ? left : left - ((stroke.energyJPerCm2 / energy) * Math.E * Math.log(excess)) / excess,
  'linear depth': (left, { stroke, excess, energy }) =>
    excess <= 1 ? left : left - (stroke.energyJPerCm2 / energy) * Math.min(1, 2 * (1 - 1 / excess)),
  chance: (left, { stroke, excess, energy }) =>
    excess <= 1 ? left : left * Math.exp(-(stroke.energyJPerCm2 / energy) * 2 * (1 - 1 / excess ** 2)),
  floor: (left, { stroke, excess, energy }) =>
    excess <= 1 ? left : left * Math.exp((-2.5 * stroke.energyJPerCm2) / energy),
  soft: (left, { stroke, excess, energy }) =>
    left * Math.exp(-2.5 * (stroke.energyJPerCm2 / energy) * (1 - Math.exp(-(excess ** 2)))),
};

/** Threshold of an element relative to the median. */
function drawRelative({ thresholds }: SurfaceLaw, spread: number, random: () => number): number {
  switch (thresholds) {
    case 'log-normal':
      return seededWithin(random, 1, spread);
    case 'Weibull':
      // Deviation of ln of a Weibull variable is 1.28 / shape; its median is (ln 2)^(1/shape).
      return (-Math.log(1 - random()) / Math.LN2) ** (spread / 1.28);
    case 'two groups':
      return (random() < 0.25 ? 1 + 3 * spread : 1 - 0.4 * spread) * seededWithin(random, 1, 0.1);
    case 'alike':
      random();
      return 1;
  }
}
