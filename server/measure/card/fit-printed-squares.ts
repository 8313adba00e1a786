import type { PhotoPoint, SurfacePoint } from '../../domain/index.ts';
import { photoPoint } from '../../domain/index.ts';
import { fitHomography } from '../geometry/fit-homography.ts';
import type { HomographyFit } from '../geometry/fit-homography.ts';
import { project } from '../geometry/homography.ts';
import { straighten, straightLens } from '../geometry/photo-map.ts';
import type { Lens } from '../geometry/photo-map.ts';
import { invertSymmetric } from '../geometry/solve-symmetric.ts';
import { reliefMotion } from './card-relief.ts';

/** A corner of a printed square, where it was found, and how it moves when the square's edges move outwards by a pixel. */
export interface SquareCorner {
  readonly from: SurfacePoint;
  readonly to: PhotoPoint;
  readonly growth: readonly [x: number, y: number];
}

export interface PrintedSquaresFit {
  /** From the card's plane to ideal pixels. */
  readonly plane: HomographyFit<SurfacePoint, PhotoPoint>;
  readonly lens: Lens;
  /** Standard deviation of the lens's bend after the fit. */
  readonly bendSigma: number;
  /** Standard deviation of a corner, px. */
  readonly cornerSigmaPx: number;
  /** How far the card's middle stands off the plane of its ends, mm, along its width and height; larger of the two. */
  readonly sagMm: number;
}

export interface SquaresView {
  readonly photo: { readonly width: number; readonly height: number };
  readonly card: { readonly widthMm: number; readonly heightMm: number };
}

/**
 * What is common to all corners beside the plane map, with the standard deviation it is believed to have beforehand:
 * growth, a margin by which squares look too large (where a photo is blurred, its tone curve moves every black-white edge to
 * the same side), px; bend of the lens (common practice: phones leave up to about 1 % at the corner); sag of the card along
 * its width and its height, mm.
 */
const TRIALS = [0.25, 0.003, 0.25, 0.25] as const;
type Nuisances = readonly [growthPx: number, bend: number, sagAlongWidth: number, sagAlongHeight: number];
const COUNT = TRIALS.length;
const BEND_SIGMA = 0.005;
/** A card on a stiff board is flat; a loose one sags. The second is believed only when it explains much better. */
const FLAT_CARD = [3, BEND_SIGMA, 0.02, 0.02] as const;
const LOOSE_CARD = [3, BEND_SIGMA, 1, 1] as const;
/** Fall of the penalised sum of squares that speaks for a sagging card. */
const SAG_EVIDENCE = 12;

/** A corner further than this many times the rms from the fit is left out. */
const OUTLIER_FACTOR = 3.5;
/** An error floor for a corner, px: what refinement reaches at best on a compressed photo. */
const LEAST_CORNER_SIGMA_PX = 0.05;
const LEAST_CORNERS = 8;
const ROUNDS = 3;

/** Plane map, lens and card shape from the corners of printed squares, by least squares with the beliefs above. */
export function fitPrintedSquares(corners: readonly SquareCorner[], view: SquaresView): PrintedSquaresFit | null {
  const first = fitBetter(corners, view);
  if (first === null || corners.length <= LEAST_CORNERS) return first;
  const limit = OUTLIER_FACTOR * first.cornerSigmaPx;
  const kept = corners.filter((_, i) => Math.hypot(first.residuals[2 * i], first.residuals[2 * i + 1]) <= limit);
  if (kept.length === corners.length || kept.length < LEAST_CORNERS) return first;
  return fitBetter(kept, view);
}

type Beliefs = typeof FLAT_CARD | typeof LOOSE_CARD;

function fitBetter(corners: readonly SquareCorner[], view: SquaresView): FullFit | null {
  const flat = fitAll(corners, view, FLAT_CARD);
  const loose = fitAll(corners, view, LOOSE_CARD);
  if (flat === null || loose === null) return flat ?? loose;
  const variance = loose.cornerSigmaPx ** 2;
  const cost = (fit: FullFit): number =>
    fit.residuals.reduce((sum, residual) => sum + residual * residual, 0) / variance + fit.penalty;
  return cost(flat) - cost(loose) > SAG_EVIDENCE ? loose : flat;
}

interface FullFit extends PrintedSquaresFit {
  readonly residuals: Float64Array;
  /** Sum of squares of the nuisances in units of their beliefs. */
  readonly penalty: number;
}

interface PlaneFit {
  readonly plane: HomographyFit<SurfacePoint, PhotoPoint>;
  readonly residuals: Float64Array;
}

type Motion = (point: SurfacePoint) => [number, number];
const NO_MOTION: Motion = () => [0, 0];

/** Residuals are nearly linear in the nuisances, so trial fits give their best values in a few steps. */
function fitAll(corners: readonly SquareCorner[], view: SquaresView, beliefs: Beliefs): FullFit | null {
  let nuisances: Nuisances = [0, 0, 0, 0];
  let motion = NO_MOTION;
  let bendSigma = BEND_SIGMA;
  let fit = fitPlane(corners, view, nuisances, motion);
  for (let round = 0; round < ROUNDS; round++) {
    if (fit === null) return null;
    motion = reliefMotion(fit.plane.map, view.photo);
    const step = bestStep(fit, corners, view, { nuisances, motion, beliefs });
    if (step === null) return null;
    nuisances = [0, 1, 2, 3].map((k) => nuisances[k] + step.change[k]) as unknown as Nuisances;
    bendSigma = step.bendSigma;
    fit = fitPlane(corners, view, nuisances, motion);
  }
  if (fit === null) return null;
  return {
    plane: fit.plane,
    residuals: fit.residuals,
    penalty: nuisances.reduce((sum, n, k) => sum + (n / beliefs[k]) ** 2, 0),
    lens: { ...straightLens(view.photo), bend: nuisances[1] },
    bendSigma,
    cornerSigmaPx: Math.max(LEAST_CORNER_SIGMA_PX, fit.plane.rms),
    sagMm: Math.max(Math.abs(nuisances[2]), Math.abs(nuisances[3])),
  };
}

function fitPlane(
  corners: readonly SquareCorner[],
  view: SquaresView,
  nuisances: Nuisances,
  motion: Motion,
): PlaneFit | null {
  const [growthPx, bend, alongWidth, alongHeight] = nuisances;
  const lens = { ...straightLens(view.photo), bend };
  const pairs = corners.map(({ from, to, growth }) => {
    const [u, v] = straighten(lens, photoPoint(to[0] - growthPx * growth[0], to[1] - growthPx * growth[1]));
    const x = (2 * from[0]) / view.card.widthMm - 1;
    const y = (2 * from[1]) / view.card.heightMm - 1;
    // Ends of a sagging card stay on the plane, its middle stands off it.
    const off = alongWidth * (1 - x * x) + alongHeight * (1 - y * y);
    const [du, dv] = motion(from);
    return { from, to: photoPoint(u - off * du, v - off * dv) };
  });
  const plane = fitHomography(pairs);
  if (plane === null) return null;
  const residuals = new Float64Array(2 * pairs.length);
  pairs.forEach(({ from, to }, i) => {
    const [x, y] = project(plane.map, from);
    residuals[2 * i] = to[0] - x;
    residuals[2 * i + 1] = to[1] - y;
  });
  return { plane, residuals };
}

interface State {
  readonly nuisances: Nuisances;
  readonly motion: Motion;
  readonly beliefs: Beliefs;
}

/** Gauss-Newton step in the nuisances, with their beliefs as priors. */
function bestStep(
  at: PlaneFit,
  corners: readonly SquareCorner[],
  view: SquaresView,
  { nuisances, motion, beliefs }: State,
): { change: Float64Array; bendSigma: number } | null {
  const slopes: Float64Array[] = [];
  for (let k = 0; k < COUNT; k++) {
    const moved = nuisances.map((n, i) => (i === k ? n + TRIALS[k] : n)) as unknown as Nuisances;
    const trial = fitPlane(corners, view, moved, motion);
    if (trial === null) return null;
    slopes.push(trial.residuals.map((r, i) => (r - at.residuals[i]) / TRIALS[k]));
  }
  const weight = 1 / Math.max(LEAST_CORNER_SIGMA_PX, at.plane.rms) ** 2;
  const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, value, i) => sum + value * b[i], 0);
  const normal = new Float64Array(COUNT * COUNT);
  const right = new Float64Array(COUNT);
  for (let i = 0; i < COUNT; i++) {
    const prior = 1 / beliefs[i] ** 2;
    for (let j = 0; j < COUNT; j++) normal[i * COUNT + j] = weight * dot(slopes[i], slopes[j]) + (i === j ? prior : 0);
    right[i] = -weight * dot(slopes[i], at.residuals) - prior * nuisances[i];
  }
  const inverse = invertSymmetric(normal, COUNT);
  if (inverse === null) return null;
  const change = right.map((_, i) => right.reduce((sum, r, j) => sum + inverse[i * COUNT + j] * r, 0));
  return { change, bendSigma: Math.sqrt(inverse[COUNT + 1]) };
}
