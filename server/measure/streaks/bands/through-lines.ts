import { median } from '../surface/robust-deviation.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import { lineShape } from './line-shape.ts';
import { LINE_LOOKS, readStripDepths, stripDepths } from './strip-depths.ts';
import type { LineLook, StripDepths } from './strip-depths.ts';
import { degreesApart } from './stripe-directions.ts';
import { stripProjector } from './strip-profiles.ts';
import type { Extent, StripProfiles, StripeFrame } from './strip-profiles.ts';

/** A line that shows in strip after strip, whatever else lies on the surface. */
export interface ThroughLine {
  readonly frame: StripeFrame;
  readonly look: LineLook;
  readonly widthMm: number;
  /** Place across, mm from the middle of the zone. */
  readonly placeMm: number;
  /** Mean over the strips of its depth in usual unrest, each strip's cut so that a patch counts no more than a film. */
  readonly continuity: number;
  /** Strips in which it could be looked at. */
  readonly strips: number;
}

/** Strips so short that a patch fills few of them. */
const STRIP_MM = 8;
export const LEAST_STRIPS = 5;
const BIN_MM = 0.8;
const STEP_DEGREES = 1.5;
const DIRECTIONS = 180 / STEP_DEGREES;
/** Widths tried, mm, and at which of the steps: wide lines turn slowly out of sight. */
export const THROUGH_WIDTHS = [
  { mm: 1.8, every: 1 },
  { mm: 3, every: 1 },
  { mm: 5, every: 1 },
  { mm: 8, every: 2 },
  { mm: 13, every: 2 },
  { mm: 21, every: 4 },
  { mm: 34, every: 4 },
] as const;
/** What one strip can say for and against a line, in usual unrest. */
const CUT = { against: -1, for: 1.5 } as const;
/** No photo is calmer, dE00. */
const LEAST_UNREST = 0.12;
/** Every so many of the steps are enough to know the usual unrest. */
const UNREST_EVERY = 10;
/** Directions this close are one. */
const SAME_DEGREES = 7;
/** Films are never lighter than the ground and no more coloured: that look shows texture alone. */
const FILM_LOOKS = 3;

const DEGREE = Math.PI / 180;

/** Continuity in standard errors of chance, but for a factor: strips add like independent looks. */
export const throughScore = ({ continuity, strips }: Pick<ThroughLine, 'continuity' | 'strips'>): number =>
  continuity * Math.sqrt(strips);

/** Strips of a signal laid for any frame, and what a place in them usually shows. */
export interface LineStrips {
  readonly project: (frame: StripeFrame) => StripProfiles;
  /** Per width of {@link THROUGH_WIDTHS}: robust deviation of single strips' depths over all directions, dE00. */
  readonly unrest: readonly { readonly lightness: number; readonly chroma: number }[];
  readonly depths: StripDepths;
}

export function lineStrips(signal: StreakSignal, extent: Extent): LineStrips {
  const strips = Math.max(LEAST_STRIPS, Math.round((2 * extent.reachMm) / STRIP_MM));
  const project = stripProjector(signal, extent, { strips, binMm: Math.max(BIN_MM, signal.stepMm) });
  return { project, unrest: usualUnrest(project), depths: stripDepths(strips) };
}

function usualUnrest(project: LineStrips['project']): LineStrips['unrest'] {
  const sizes = THROUGH_WIDTHS.map(() => ({ lightness: [] as number[], chroma: [] as number[] }));
  for (let step = 0; step < DIRECTIONS; step += UNREST_EVERY) {
    const p = project({ angle: step * STEP_DEGREES * DEGREE, bendPerMm: 0 });
    const one = stripDepths(p.strips);
    THROUGH_WIDTHS.forEach(({ mm }, n) => {
      const shape = lineShape(mm, p.binMm);
      for (let bin = shape.far; bin + shape.far <= p.bins; bin += shape.half) {
        const count = readStripDepths(p, bin, shape, one);
        const [darker, more, less, lighter] = one.nearer;
        for (let s = 0; s < count; s++) {
          sizes[n].lightness.push(Math.abs(darker[s] - lighter[s]) / 2);
          sizes[n].chroma.push(Math.abs(more[s] - less[s]) / 2);
        }
      }
    });
  }
  const unrest = (depths: number[]): number => Math.max(LEAST_UNREST, 1.4826 * median(depths));
  return sizes.map(({ lightness, chroma }) => ({ lightness: unrest(lightness), chroma: unrest(chroma) }));
}

/** The lines that show most steadily, one a direction, each bent and turned to show best. */
export function throughLines(strips: LineStrips, count: number): ThroughLine[] {
  const found: ThroughLine[] = [];
  for (let step = 0; step < DIRECTIONS; step++) {
    const frame = { angle: step * STEP_DEGREES * DEGREE, bendPerMm: 0 };
    const best = bestLine(strips, frame, ({ every }) => step % every === 0);
    if (best !== null) found.push(best);
  }
  found.sort((p, q) => throughScore(q) - throughScore(p));
  const kept: ThroughLine[] = [];
  for (const next of found) {
    if (kept.length >= count) break;
    if (kept.every((other) => degreesApart(degreesOf(other), degreesOf(next)) > SAME_DEGREES)) kept.push(next);
  }
  return kept.map((line) => straightened(strips, line));
}

const degreesOf = ({ frame }: ThroughLine): number => frame.angle / DEGREE;

type Width = (typeof THROUGH_WIDTHS)[number];

/** The line of a frame that shows most steadily; null where none could be looked at. */
export function bestLine(
  strips: LineStrips,
  frame: StripeFrame,
  isTried: (width: Width) => boolean = () => true,
): ThroughLine | null {
  const p = strips.project(frame);
  let best: ThroughLine | null = null;
  let most = -Infinity;
  for (const [n, width] of THROUGH_WIDTHS.entries()) {
    if (!isTried(width)) continue;
    const shape = lineShape(width.mm, p.binMm);
    const step = Math.max(1, Math.round(0.3 * shape.half));
    for (let bin = shape.far; bin + shape.far <= p.bins; bin += step) {
      const count = readStripDepths(p, bin, shape, strips.depths);
      if (count < LEAST_STRIPS) continue;
      for (let look = 0; look < FILM_LOOKS; look++) {
        const sum = continuitySum(strips, n, look, count);
        if (sum <= most * Math.sqrt(count)) continue;
        most = sum / Math.sqrt(count);
        const placeMm = p.startMm + bin * p.binMm;
        best = { frame, look: LINE_LOOKS[look], widthMm: width.mm, placeMm, continuity: sum / count, strips: count };
      }
    }
  }
  return best;
}

/** Sum of the cut depths that were read last. @param look place in {@link LINE_LOOKS} */
export function continuitySum({ unrest, depths }: LineStrips, width: number, look: number, count: number): number {
  const usual = look === 0 || look === 3 ? unrest[width].lightness : unrest[width].chroma;
  const values = depths.nearer[look];
  let sum = 0;
  for (let s = 0; s < count; s++) {
    const depth = values[s] / usual;
    sum += depth < CUT.against ? CUT.against : depth > CUT.for ? CUT.for : depth;
  }
  return sum;
}

/**
 * Bends tried, as radii in mm, and the turns with them: a bent line shows first in the direction of one of its ends. Sharper
 * bends are rare and give chance more to choose from.
 */
const RADII_MM = [600, 1200] as const;
const END_TURNS = [-3, 0, 3] as const;
/** A bend must show this much more: it is another way for chance to look like a line. */
const BEND_GAIN = 1.06;
/** Widths this much narrower or wider are tried along. */
const WIDTH_RATIO = 1.8;

function straightened(strips: LineStrips, line: ThroughLine): ThroughLine {
  let best = line;
  const isNear = ({ mm }: Width): boolean => mm * WIDTH_RATIO > line.widthMm && mm < line.widthMm * WIDTH_RATIO;
  const attempt = (frame: StripeFrame, gain: number): void => {
    const next = bestLine(strips, frame, isNear);
    if (next !== null && throughScore(next) > gain * throughScore(best)) best = next;
  };
  const turned = (frame: StripeFrame, degrees: number): StripeFrame => ({
    ...frame,
    angle: frame.angle + degrees * DEGREE,
  });
  for (const degrees of [-0.5, 0.5]) attempt(turned(line.frame, degrees), 1);
  const straight = best.frame;
  for (const radius of RADII_MM) {
    for (const bendPerMm of [-1 / radius, 1 / radius]) {
      for (const degrees of END_TURNS) attempt(turned({ ...straight, bendPerMm }, degrees), BEND_GAIN);
    }
  }
  const bent = best.frame;
  if (bent.bendPerMm !== 0) for (const degrees of [-1.5, -0.75, 0.75, 1.5]) attempt(turned(bent, degrees), 1);
  return best;
}
