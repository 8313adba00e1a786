import type { Measured, Streaks, SurfacePoint } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import type { SurfaceGrid } from '../geometry/surface-grid.ts';
import type { LineAsSet } from '../line-as-set.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';

/** The surface in which streaks are sought. */
export interface SurfaceInput {
  readonly grid: SurfaceGrid;
  readonly lab: LabPlanes;
  /** 1 where a pixel lies in the zone and can be measured. */
  readonly usable: ByteMask;
  /** Probability of rust, scale or coating, where it is known. */
  readonly residueProbability: Plane | null;
  /** Probability of the classes that streaks leave, where they are known. */
  readonly filmProbability: { readonly stain: Plane; readonly rust: Plane; readonly scale: Plane } | null;
  /** Probability that a place lacked dwell, as a network tells it, where it is known. */
  readonly underDwellProbability: Plane | null;
  /** Photo pixels per unit of the grid. */
  readonly photoPxPerUnit: number;
}

/** Without settings kinds are told by their looks alone. */
export interface StreakInput extends SurfaceInput, LineAsSet {}

/** Why something that stood out is not called a streak, as a code. */
export type StreakDoubt =
  /** Nothing runs through the zone in one direction. */
  | 'nothing-runs-through'
  /** Lines are there, but not clearer than grinding, rolling or clouds could make them. */
  | 'not-clear-of-texture'
  /** One side is darker than the other: the edge of a shadow or of a plate, within the zone or at its rim. */
  | 'one-sided-step'
  /** A single line without colour of its own, too wide or too thin for a seam: a shadow or a joint. */
  | 'single-neutral-line'
  /** A bead with ripples, or heat tint on both sides of one. */
  | 'looks-like-weld';

export interface StreakExplanation {
  /** Log odds that streaks are there; 0 is even. Null when nothing was there to weigh. */
  readonly logOdds: number | null;
  readonly doubt: StreakDoubt | null;
  /** Spacing in units of the grid: stays when the grid is in pixels and no millimetres can be stated. */
  readonly pitchUnits: Measured | null;
  /** Middle lines of the streaks for drawing, units of the card frame; for fine stripes a choice of them. */
  readonly centreLines: readonly (readonly SurfacePoint[])[];
  /** Spacing of strokes that the settings lead to, mm. */
  readonly expectedPitchMm: number | null;
  /** Stripes that would not show: their pitch by the settings is finer than the photo resolves. */
  readonly unresolved: 'pitch-finer-than-photo' | null;
}

export interface StreakFinding {
  readonly streaks: Omit<Streaks, 'travelSpeedMmPerS'>;
  readonly explanation: StreakExplanation;
}
