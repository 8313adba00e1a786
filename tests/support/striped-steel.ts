import type { StreakKind } from '../../server/domain/index.ts';
import { ciede2000 } from '../../server/measure/colour/ciede2000.ts';
import type { LabPlanes } from '../../server/measure/colour/lab-planes.ts';
import type { SurfaceGrid } from '../../server/measure/geometry/surface-grid.ts';
import type { ByteMask, Plane } from '../../server/measure/raster/plane.ts';
import { dice, octaveNoise } from './lattice-noise.ts';
import type { Dice } from './lattice-noise.ts';
import {
  forEachPlace,
  layLampStrips,
  layLightSlope,
  layLines,
  layPanelSeam,
  layPatternedRim,
  layPlainSteel,
  layRuns,
  layRustPatches,
  layScratches,
  layShadow,
  layWeldBead,
  tintPixel,
} from './steel-ground.ts';
import type { Steel } from './steel-ground.ts';
import { drawStripes, stripeProfile } from './steel-stripes.ts';
import type { Stripes } from './steel-stripes.ts';

export const STEEL_GROUNDS = [
  'plain',
  'brushed',
  'ground',
  'curved-ground',
  'cross-ground',
  'rolled',
  'cloudy',
  'rust-patches',
  'weld',
  'shadow-edge',
  'shadow-band',
  'panel-seam',
  'lamp-strips',
  'runs',
  'patterned-rim',
  'scratches',
] as const;
export type SteelGround = (typeof STEEL_GROUNDS)[number];

interface StripeTruth {
  readonly kind: StreakKind;
  /** Null for bands, which have none. */
  readonly pitchMm: number | null;
  readonly directionDegrees: number;
  readonly contrastDeltaE00: number;
  readonly affectedFraction: number;
  /** Lack of dwell pixel by pixel, 0..1. */
  readonly profile: Float32Array;
  readonly stripes: Stripes;
}

export interface SteelView {
  readonly grid: SurfaceGrid;
  readonly lab: LabPlanes;
  readonly usable: ByteMask;
  readonly residue: Plane;
  readonly pxPerMm: number;
  readonly truth: StripeTruth | null;
}

export interface SteelOptions {
  readonly ground?: SteelGround;
  readonly stripes?: Partial<Stripes> & { readonly kind: StreakKind };
  readonly widthMm?: number;
  readonly heightMm?: number;
  readonly stepMm?: number;
  readonly gridAngle?: number;
  /** No noise of the camera, no gaps in the mask, no slope of light. */
  readonly isPlain?: boolean;
}

/** One zone of steel as the measuring code sees it, with what is true of its stripes. */
export function stripedSteel(seed: number, options: SteelOptions = {}): SteelView {
  const random = dice(seed);
  const pixelMm = random.logBetween(0.12, 0.4);
  const stepMm = options.stepMm ?? Math.max(0.25, pixelMm);
  const widthMm = options.widthMm ?? random.between(85, 220);
  const heightMm = options.heightMm ?? random.between(85, 190);
  const steel = emptySteel(Math.round(widthMm / stepMm), Math.round(heightMm / stepMm), stepMm);
  const angle = options.gridAngle ?? (random.chance(0.2) ? random.between(-0.7, 0.7) : 0);
  layGround(steel, random, options.ground ?? 'plain');
  const truth = options.stripes === undefined ? null : layStripes(steel, dice(seed + 7919), options.stripes, angle);
  if (options.isPlain !== true) layLightSlope(steel, random);
  expose(steel, random, options.isPlain === true ? 0 : pixelMm);
  const grid: SurfaceGrid = {
    unit: 'mm',
    width: steel.width,
    height: steel.height,
    step: stepMm,
    origin: [30, 150],
    angle,
  };
  const plane = (values: Float32Array): Plane => ({ width: steel.width, height: steel.height, values });
  return {
    grid,
    lab: { L: plane(steel.L), a: plane(steel.a), b: plane(steel.b) },
    usable: usableMask(steel, random, options.isPlain === true),
    residue: plane(steel.residue),
    pxPerMm: 1 / pixelMm,
    truth,
  };
}

function emptySteel(width: number, height: number, stepMm: number): Steel {
  const n = width * height;
  return {
    width,
    height,
    stepMm,
    L: new Float32Array(n),
    a: new Float32Array(n),
    b: new Float32Array(n),
    residue: new Float32Array(n),
  };
}

function layGround(steel: Steel, random: Dice, ground: SteelGround): void {
  layPlainSteel(steel, random, ground === 'cloudy' ? { clouds: random.between(2.5, 6) } : {});
  const angle = random.between(0, Math.PI);
  const fine = { widthMm: random.between(0.25, 0.6), broadestMm: random.between(1.5, 4), angle, radiusMm: Infinity };
  switch (ground) {
    case 'plain':
    case 'cloudy':
      return;
    case 'brushed': {
      layLines(steel, random, {
        ...fine,
        fade: random.between(0.9, 1.2),
        stretch: random.between(60, 200),
        contrast: random.between(1, 3.5),
      });
      return;
    }
    case 'ground': {
      layLines(steel, random, {
        ...fine,
        fade: random.between(0.9, 1.3),
        stretch: random.between(30, 90),
        contrast: random.between(2, 6),
      });
      return;
    }
    case 'curved-ground': {
      layLines(steel, random, {
        ...fine,
        fade: random.between(0.9, 1.3),
        stretch: random.between(30, 90),
        contrast: random.between(2, 6),
        radiusMm: random.logBetween(60, 600),
      });
      return;
    }
    case 'cross-ground': {
      layCrossGround(steel, random);
      return;
    }
    case 'rolled': {
      layLines(steel, random, {
        ...fine,
        broadestMm: random.between(8, 25),
        fade: random.between(0.65, 0.95),
        stretch: random.between(30, 80),
        contrast: random.between(0.3, 1.1),
      });
      return;
    }
    case 'rust-patches': {
      layRustPatches(steel, random, random.logBetween(0.02, 0.6), random.logBetween(3, 50));
      return;
    }
    case 'weld': {
      layWeldBead(steel, random);
      return;
    }
    case 'shadow-edge': {
      layShadow(steel, random, 'edge');
      return;
    }
    case 'shadow-band': {
      layShadow(steel, random, 'band');
      return;
    }
    case 'panel-seam': {
      layPanelSeam(steel, random);
      return;
    }
    case 'lamp-strips': {
      layLampStrips(steel, random);
      return;
    }
    case 'runs': {
      layRuns(steel, random, random.between(0.15, 0.9));
      return;
    }
    case 'patterned-rim': {
      layPatternedRim(steel, random);
      return;
    }
    case 'scratches': {
      layScratches(steel, random);
      return;
    }
  }
}

function layCrossGround(steel: Steel, random: Dice): void {
  const first = random.between(0, Math.PI);
  const patch = octaveNoise(random, { largest: 60, smallest: 12, fade: 0.6 });
  const share = (x: number, y: number): number => Math.min(1, Math.max(0, 0.5 + 0.8 * patch(x, y)));
  const shape = {
    widthMm: random.between(0.25, 0.6),
    broadestMm: random.between(1.5, 4),
    fade: 1.1,
    stretch: random.between(30, 90),
  };
  const contrast = random.between(2, 6);
  layLines(steel, random, { ...shape, contrast, angle: first, radiusMm: Infinity }, share);
  const second = first + random.between(0.3, 1.5);
  layLines(
    steel,
    random,
    { ...shape, contrast, angle: second, radiusMm: random.logBetween(80, 900) },
    (x, y) => 1 - share(x, y),
  );
}

const FILM: { readonly [film in Stripes['film']]: readonly [number, number, number] } = {
  oxide: [27, 0.5, 1],
  stain: [40, 9, 19],
  rust: [34, 19, 26],
  scale: [25, 0, -5],
};

interface Sample {
  readonly core: Int32Array;
  readonly ground: Int32Array;
}

/** Lays a film over the stripes so strong that core and ground differ by the wanted CIEDE2000, or as much as it can. */
function layStripes(
  steel: Steel,
  random: Dice,
  given: NonNullable<SteelOptions['stripes']>,
  gridAngle: number,
): StripeTruth {
  const stripes = drawStripes(random, given.kind, given);
  const onGrid = { ...stripes, directionDegrees: stripes.directionDegrees - (gridAngle * 180) / Math.PI };
  const profileAt = stripeProfile(random, onGrid);
  const profile = new Float32Array(steel.L.length);
  forEachPlace(steel, (i, x, y) => {
    profile[i] = profileAt(x, y);
  });
  const mottle = octaveNoise(random, { largest: stripes.pitchMm < 4 ? 2 : 5, smallest: 0.6, fade: 0.75 });
  const torn = stripes.film === 'rust' || stripes.film === 'scale';
  const base = FILM[stripes.film];
  const colour: [number, number, number] = [
    base[0] + random.normal() * 4,
    base[1] * random.between(0.7, 1.3),
    base[2] * random.between(0.7, 1.3),
  ];
  const grain = new Float32Array(profile.length);
  forEachPlace(steel, (i, x, y) => {
    grain[i] = mottle(x, y);
  });
  const share = (amount: number, i: number): number =>
    torn
      ? 0.92 * Math.min(1, Math.max(0.3 * amount * profile[i], 0.5 + 2.5 * (grain[i] - 3 + 5.2 * amount * profile[i])))
      : Math.min(0.95, amount * profile[i] * (1 + 0.15 * grain[i]));
  const sample = sampleOf(profile);
  let low = 0;
  let high = 1;
  for (let step = 0; step < 14; step++) {
    const middle = (low + high) / 2;
    if (contrastOf(steel, sample, colour, (i) => share(middle, i)) < stripes.contrast) low = middle;
    else high = middle;
  }
  let affected = 0;
  for (let i = 0; i < profile.length; i++) {
    if (profile[i] >= 0.5) affected++;
    const alpha = share(low, i);
    tintPixel(steel, i, colour, alpha);
    if (torn && alpha > 0.45) steel.residue[i] = Math.max(steel.residue[i], alpha);
  }
  return {
    kind: stripes.kind,
    pitchMm: truePitch(onGrid, steel),
    directionDegrees: ((stripes.directionDegrees % 180) + 180) % 180,
    contrastDeltaE00: contrastOf(steel, sample, colour, () => 0),
    affectedFraction: affected / profile.length,
    profile,
    stripes,
  };
}

/** Of seams the mean distance of those that cross the zone: a hand sets them as it does, whatever was meant. */
function truePitch(stripes: Stripes, { width, height, stepMm }: Steel): number | null {
  if (stripes.kind === 'dwell-band') return null;
  if (stripes.kind === 'line-pitch') return stripes.pitchMm;
  const angle = (stripes.directionDegrees * Math.PI) / 180;
  const reachMm = ((width * Math.abs(Math.sin(angle)) + height * Math.abs(Math.cos(angle))) * stepMm) / 2;
  const places = stripes.lines
    .map((line) => line.centreMm)
    .filter((place) => Math.abs(place) < reachMm - 3)
    .sort((a, b) => a - b);
  return places.length < 2 ? stripes.pitchMm : (places[places.length - 1] - places[0]) / (places.length - 1);
}

function sampleOf(profile: Float32Array): Sample {
  const core: number[] = [];
  const ground: number[] = [];
  const step = Math.max(1, Math.floor(profile.length / 60000)) | 1;
  for (let i = 0; i < profile.length; i += step) {
    if (profile[i] > 0.7) core.push(i);
    else if (profile[i] < 0.1) ground.push(i);
  }
  return { core: Int32Array.from(core), ground: Int32Array.from(ground) };
}

function contrastOf(
  steel: Steel,
  sample: Sample,
  film: readonly [number, number, number],
  share: (i: number) => number,
): number {
  const mean = (indices: Int32Array): { L: number; a: number; b: number } => {
    let [L, a, b] = [0, 0, 0];
    for (const i of indices) {
      const alpha = share(i);
      L += steel.L[i] + (film[0] - steel.L[i]) * alpha;
      a += steel.a[i] + (film[1] - steel.a[i]) * alpha;
      b += steel.b[i] + (film[2] - steel.b[i]) * alpha;
    }
    return { L: L / indices.length, a: a / indices.length, b: b / indices.length };
  };
  if (sample.core.length === 0 || sample.ground.length === 0) return 0;
  return ciede2000(mean(sample.core), mean(sample.ground));
}

/** Blur of lens and rectification, and noise of the camera. */
function expose(steel: Steel, random: Dice, pixelMm: number): void {
  const share = pixelMm === 0 ? 0 : Math.min(0.33, (0.45 * pixelMm) / steel.stepMm);
  for (const plane of [steel.L, steel.a, steel.b]) {
    if (share > 0) blurRows(plane, steel.width, share);
    if (share > 0) blurColumns(plane, steel.width, share);
  }
  if (pixelMm === 0) return;
  const noise = random.logBetween(0.15, 0.9);
  for (let i = 0; i < steel.L.length; i++) {
    steel.L[i] += noise * (random.next() + random.next() + random.next() - 1.5) * 2;
    steel.a[i] += noise * (random.next() + random.next() - 1);
    steel.b[i] += noise * (random.next() + random.next() - 1);
  }
}

function blurRows(values: Float32Array, width: number, share: number): void {
  for (let start = 0; start < values.length; start += width) {
    let before = values[start];
    for (let x = 1; x < width - 1; x++) {
      const here = values[start + x];
      values[start + x] = here + share * (before + values[start + x + 1] - 2 * here);
      before = here;
    }
  }
}

function blurColumns(values: Float32Array, width: number, share: number): void {
  for (let x = 0; x < width; x++) {
    let before = values[x];
    for (let i = x + width; i < values.length - width; i += width) {
      const here = values[i];
      values[i] = here + share * (before + values[i + width] - 2 * here);
      before = here;
    }
  }
}

/** Now and then a blot of glare or a cut corner. */
function usableMask(steel: Steel, random: Dice, isWhole: boolean): ByteMask {
  const mask: ByteMask = { width: steel.width, height: steel.height, values: new Uint8Array(steel.L.length).fill(1) };
  if (isWhole || random.chance(0.6)) return mask;
  const blots = Array.from({ length: random.pick([1, 2, 5]) }, () => ({
    x: random.between(-100, 100),
    y: random.between(-100, 100),
    radius: random.logBetween(3, 25),
  }));
  const corner = random.chance(0.4) ? random.between(40, 90) : Infinity;
  forEachPlace(steel, (i, x, y) => {
    if (x + y > corner || blots.some((blot) => (x - blot.x) ** 2 + (y - blot.y) ** 2 < blot.radius ** 2)) {
      mask.values[i] = 0;
    }
  });
  return mask;
}
