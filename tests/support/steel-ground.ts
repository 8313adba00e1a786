import type { Dice } from './lattice-noise.ts';
import { latticeNoise, octaveNoise } from './lattice-noise.ts';

/** A piece of surface in Lab, written pixel by pixel; x and y in mm from its middle. */
export interface Steel {
  readonly width: number;
  readonly height: number;
  readonly stepMm: number;
  readonly L: Float32Array;
  readonly a: Float32Array;
  readonly b: Float32Array;
  /** 0..1: body of rust, scale or coating. */
  readonly residue: Float32Array;
}

export function forEachPlace(steel: Steel, visit: (index: number, x: number, y: number) => void): void {
  const { width, height, stepMm } = steel;
  for (let row = 0, i = 0; row < height; row++) {
    const y = (row + 0.5 - height / 2) * stepMm;
    for (let column = 0; column < width; column++, i++) visit(i, (column + 0.5 - width / 2) * stepMm, y);
  }
}

/** Multiplies light: cube roots of XYZ scale together, which holds above L* 8. */
function shadePixel(steel: Steel, i: number, gain: number): void {
  const root = Math.cbrt(Math.max(0.02, gain));
  steel.L[i] = (steel.L[i] + 16) * root - 16;
  steel.a[i] *= root;
  steel.b[i] *= root;
}

export function tintPixel(steel: Steel, i: number, film: readonly [number, number, number], share: number): void {
  steel.L[i] += (film[0] - steel.L[i]) * share;
  steel.a[i] += (film[1] - steel.a[i]) * share;
  steel.b[i] += (film[2] - steel.b[i]) * share;
}

/** Plain steel: a level, slow clouds and grain. */
export function layPlainSteel(steel: Steel, random: Dice, given: { clouds?: number; grain?: number } = {}): void {
  const level = random.between(44, 74);
  const warmth = random.normal() * 1.2;
  const cloud = octaveNoise(random, {
    largest: random.logBetween(25, 160),
    smallest: 1,
    fade: random.between(0.45, 0.75),
  });
  const grain = octaveNoise(random, { largest: random.logBetween(0.5, 2.5), smallest: 0.4, fade: 0.8 });
  const hue = octaveNoise(random, { largest: 60, smallest: 8, fade: 0.6 });
  const clouds = given.clouds ?? random.logBetween(0.5, 2.5);
  const grains = given.grain ?? random.logBetween(0.4, 3.5);
  forEachPlace(steel, (i, x, y) => {
    steel.L[i] = level + clouds * cloud(x, y) + grains * grain(x, y);
    const w = warmth + 0.35 * hue(x, y);
    steel.a[i] = 0.3 * w;
    steel.b[i] = w;
  });
}

/** Lines of a brush, a grinder or a roll: `contrast` is their standard deviation in L*. */
export interface LineTexture {
  readonly widthMm: number;
  readonly broadestMm: number;
  readonly fade: number;
  readonly stretch: number;
  readonly contrast: number;
  readonly angle: number;
  /** Radius of arcs; infinite for straight lines. */
  readonly radiusMm: number;
}

export function layLines(
  steel: Steel,
  random: Dice,
  lines: LineTexture,
  share?: (x: number, y: number) => number,
): void {
  const octaves: { noise: (x: number, y: number) => number; size: number; weight: number }[] = [];
  let power = 0;
  let weight = 1;
  for (let size = lines.broadestMm; size >= lines.widthMm; size /= 2) {
    octaves.push({ noise: latticeNoise(random.key()), size, weight });
    power += weight * weight;
    weight *= lines.fade;
  }
  const norm = lines.contrast / (0.6 * Math.sqrt(power));
  const cos = Math.cos(lines.angle);
  const sin = Math.sin(lines.angle);
  forEachPlace(steel, (i, x, y) => {
    let along = x * cos + y * sin;
    let across = y * cos - x * sin;
    if (Number.isFinite(lines.radiusMm)) {
      const radius = Math.sqrt(along * along + (across - lines.radiusMm) ** 2);
      along = lines.radiusMm * Math.atan2(along, lines.radiusMm - across);
      across = lines.radiusMm - radius;
    }
    let sum = 0;
    for (const o of octaves) sum += o.weight * o.noise(along / (o.size * lines.stretch), across / o.size);
    steel.L[i] += norm * sum * (share === undefined ? 1 : share(x, y));
  });
}

const RUST: readonly [number, number, number] = [36, 19, 27];

/** Islands of rust that cover a share of the surface. */
export function layRustPatches(steel: Steel, random: Dice, cover: number, sizeMm: number): void {
  const field = octaveNoise(random, { largest: sizeMm, smallest: 0.8, fade: 0.55 });
  const mottle = octaveNoise(random, { largest: 6, smallest: 0.8, fade: 0.8 });
  const limit = normalQuantile(1 - cover);
  const colour: [number, number, number] = [
    RUST[0] + random.normal() * 5,
    RUST[1] + random.normal() * 4,
    RUST[2] + random.normal() * 5,
  ];
  const softness = random.between(0.1, 0.5);
  forEachPlace(steel, (i, x, y) => {
    const share = Math.min(1, Math.max(0, 0.5 + (field(x, y) - limit) / softness));
    if (share === 0) return;
    const m = mottle(x, y);
    tintPixel(steel, i, [colour[0] + 3 * m, colour[1] + 2 * m, colour[2] + 2.5 * m], 0.92 * share);
    steel.residue[i] = Math.max(steel.residue[i], share);
  });
}

/** Quantile of the normal distribution, good to 0.005. Source: Abramowitz and Stegun 26.2.23 (from memory). */
function normalQuantile(p: number): number {
  const tail = Math.min(p, 1 - p);
  const t = Math.sqrt(-2 * Math.log(tail));
  const z =
    t - (2.515517 + 0.802853 * t + 0.010328 * t * t) / (1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3);
  return p > 0.5 ? z : -z;
}

/** A bead with ripples and the colours that heat left beside it; the bead may bend. */
export function layWeldBead(steel: Steel, random: Dice): void {
  const angle = random.between(0, Math.PI);
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const half = random.between(2.5, 6);
  const ripple = random.between(1, 3);
  const bend = random.chance(0.5) ? random.normal() / 250 : 0;
  const offset = random.between(-35, 35);
  const reach = random.between(4, 22);
  const tint = random.chance(0.7) ? random.between(0.3, 0.9) : 0;
  const shake = octaveNoise(random, { largest: 30, smallest: 2, fade: 0.5 });
  const tones = [
    [58, 2, 18],
    [47, 11, 24],
    [40, 12, -4],
    [46, -2, -16],
  ] as const;
  forEachPlace(steel, (i, x, y) => {
    const along = x * cos + y * sin;
    const across = y * cos - x * sin - offset + (bend / 2) * along * along + 0.4 * shake(x, y);
    const off = Math.abs(across) / half;
    if (off < 1) {
      const phase = (along + 0.5 * half * off * off + 0.4 * shake(y, x)) / ripple;
      steel.L[i] = 40 + 14 * Math.cos(2 * Math.PI * phase) * (1 - off * off) + 6 * shake(x, y) + 10 * (1 - off);
    } else if (tint > 0 && Math.abs(across) - half < reach) {
      const place = (1 - (Math.abs(across) - half) / reach) * (tones.length - 0.01);
      const tone = tones[Math.floor(place)];
      tintPixel(steel, i, tone, tint * Math.min(1, place));
    }
  });
}

/** Rust that ran down from spots: parallel tails that start and end anywhere. */
export function layRuns(steel: Steel, random: Dice, strength: number): void {
  const angle = random.chance(0.6)
    ? random.pick([0, Math.PI / 2]) + random.normal() * 0.04
    : random.between(0, Math.PI);
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const count = Math.round(random.logBetween(3, 22));
  const tone: [number, number, number] = [random.between(36, 52), random.between(6, 18), random.between(14, 32)];
  const runs = Array.from({ length: count }, () => ({
    across: random.between(-110, 110),
    start: random.between(-100, 60),
    length: random.logBetween(15, 130),
    width: random.logBetween(1.2, 7),
    strength: strength * random.between(0.4, 1),
  }));
  const shake = octaveNoise(random, { largest: 25, smallest: 3, fade: 0.5 });
  forEachPlace(steel, (i, x, y) => {
    const along = x * cos + y * sin;
    const across = y * cos - x * sin + 0.8 * shake(x, y);
    for (const run of runs) {
      const t = (along - run.start) / run.length;
      if (t < 0 || t > 1) continue;
      const off = Math.abs(across - run.across) / (run.width * (1 - 0.5 * t));
      if (off < 1) tintPixel(steel, i, tone, run.strength * (1 - off * off) * Math.min(1, 6 * t) * (1 - t));
    }
  });
}

/** Straight, hair-thin scratches, light or dark. */
export function layScratches(steel: Steel, random: Dice): void {
  const lean = random.between(0, Math.PI);
  const count = Math.round(random.between(5, 50));
  for (let n = 0; n < count; n++) {
    const angle = lean + random.normal() * random.between(0.02, 0.6);
    const length = random.logBetween(8, 200);
    const tone = random.chance(0.6) ? random.between(2, 9) : -random.between(2, 10);
    const [x0, y0] = [random.between(-110, 110), random.between(-110, 110)];
    for (let t = 0; t < length; t += steel.stepMm * 0.7) {
      const column = Math.floor((x0 + t * Math.cos(angle)) / steel.stepMm + steel.width / 2);
      const row = Math.floor((y0 + t * Math.sin(angle)) / steel.stepMm + steel.height / 2);
      if (column >= 0 && row >= 0 && column < steel.width && row < steel.height) {
        steel.L[row * steel.width + column] += 0.6 * tone;
      }
    }
  }
}

/** Two plates side by side: a dark groove, one side lighter. */
export function layPanelSeam(steel: Steel, random: Dice): void {
  const angle = random.pick([0, Math.PI / 2]) + random.normal() * 0.06;
  const offset = random.between(-40, 40);
  const step = 1 + random.normal() * 0.1;
  const half = random.between(0.15, 0.55);
  forEachPlace(steel, (i, x, y) => {
    const across = y * Math.cos(angle) - x * Math.sin(angle) - offset;
    const groove = Math.max(0, 1 - Math.abs(across) / (2 * half));
    shadePixel(steel, i, (across > 0 ? step : 1) * (1 - 0.75 * groove));
  });
}

/** Shadow of an edge or of a pole across the surface: light only, a little bluer in the shade. */
export function layShadow(steel: Steel, random: Dice, form: 'edge' | 'band'): void {
  const angle = random.between(0, 2 * Math.PI);
  const offset = random.between(-50, 50);
  const penumbra = random.logBetween(1.5, 50);
  const width = random.logBetween(6, 60);
  const strength = random.between(0.12, 0.6);
  const blue = random.between(0, 1.2);
  const rise = (t: number): number => {
    const u = Math.min(1, Math.max(0, 0.5 + t / penumbra));
    return u * u * (3 - 2 * u);
  };
  forEachPlace(steel, (i, x, y) => {
    const across = y * Math.cos(angle) - x * Math.sin(angle) - offset;
    const shade = form === 'edge' ? rise(across) : Math.max(0, rise(across + width / 2) - rise(across - width / 2));
    shadePixel(steel, i, 1 - strength * shade);
    steel.b[i] -= blue * shade * strength * 3;
  });
}

/** Mirror image of strip lamps on shiny steel: soft bright bands. */
export function layLampStrips(steel: Steel, random: Dice): void {
  const angle = random.between(0, Math.PI);
  const lamps = Array.from({ length: random.pick([1, 1, 2]) }, () => ({
    offset: random.between(-70, 70),
    sigma: random.between(9, 40),
    gain: random.between(0.08, 0.45),
    warm: random.normal() * 0.6,
  }));
  forEachPlace(steel, (i, x, y) => {
    const across = y * Math.cos(angle) - x * Math.sin(angle);
    for (const lamp of lamps) {
      const bright = lamp.gain * Math.exp(-((across - lamp.offset) ** 2) / (2 * lamp.sigma ** 2));
      shadePixel(steel, i, 1 + bright);
      steel.b[i] += lamp.warm * bright;
    }
  });
}

/** Cloth, planks or a striped mat seen past the edge of the piece, within the outermost millimetres of the zone. */
export function layPatternedRim(steel: Steel, random: Dice): void {
  const side = random.pick(['left', 'right', 'top', 'bottom'] as const);
  const depth = random.between(1.5, 7);
  const pitch = random.logBetween(2, 14);
  const angle = random.between(0, Math.PI);
  const tone: [number, number, number] = [random.between(15, 80), random.normal() * 8, random.normal() * 12];
  const swing = random.between(5, 18);
  const halfX = (steel.width * steel.stepMm) / 2;
  const halfY = (steel.height * steel.stepMm) / 2;
  const tilt = random.normal() * 0.02;
  forEachPlace(steel, (i, x, y) => {
    const from = {
      left: x + halfX + tilt * y,
      right: halfX - x + tilt * y,
      top: y + halfY + tilt * x,
      bottom: halfY - y + tilt * x,
    }[side];
    if (from > depth) return;
    const wave = Math.sign(Math.sin((2 * Math.PI * (y * Math.cos(angle) - x * Math.sin(angle))) / pitch));
    steel.L[i] = tone[0] + swing * wave;
    steel.a[i] = tone[1];
    steel.b[i] = tone[2];
  });
}

/** Slow change of light across the surface. */
export function layLightSlope(steel: Steel, random: Dice): void {
  const [sx, sy] = [random.normal() * 0.0006, random.normal() * 0.0006];
  const bow = random.normal() * 6e-6;
  forEachPlace(steel, (i, x, y) => {
    shadePixel(steel, i, Math.max(0.3, 1 + sx * x + sy * y + bow * (x * x + y * y)));
  });
}
