import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { millimetres, type Millimetres } from '../units.ts';
import { strokesPerSecond } from './strokes-per-second.ts';

type Walk = Pick<Settings, 'travelSpeedMmPerS' | 'scanFrequencyHz'>;
type Mirror = Pick<Machine, 'strokesPerCycle'>;

/** Mean distance between neighbouring strokes along the travel: travel speed over strokes per second. Source: arithmetic. */
export const linePitch = (settings: Walk, machine: Mirror): Millimetres =>
  millimetres(settings.travelSpeedMmPerS / strokesPerSecond(settings, machine));

/**
 * Widest gap between neighbouring strokes at a distance from the middle of the line, for a to-and-fro (zig-zag) sweep.
 * Consecutive strokes are not parallel: gaps alternate p (1 + 2 x / W) and p (1 - 2 x / W).
 * `offsetMm` from -W/2 to W/2. Source: geometry of the zig-zag.
 */
export const widestLocalGap = (
  settings: Walk & Pick<Settings, 'scanWidthMm'>,
  machine: Mirror,
  offsetMm: number,
): Millimetres => millimetres(linePitch(settings, machine) * (1 + Math.abs(2 * offsetMm) / settings.scanWidthMm));

/** Widest gap anywhere on a zig-zag: twice the mean pitch, at both ends of the line. Source: geometry of the zig-zag. */
export const edgeGap = (settings: Walk, machine: Mirror): Millimetres => millimetres(2 * linePitch(settings, machine));
