import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { linePitch } from './line-pitch.ts';

type Walk = Pick<Settings, 'travelSpeedMmPerS' | 'scanFrequencyHz'>;
type Optics = Pick<Machine, 'strokesPerCycle' | 'spotDiameterMm'>;

/** Strokes that cross a point in one pass: spot diameter over mean pitch. Below 1 part of the metal is missed. Source: arithmetic. */
export const strokesSeenByPoint = (settings: Walk, machine: Optics): number =>
  machine.spotDiameterMm / linePitch(settings, machine);

/** Shared part of neighbouring strokes, 1 - p/d; negative when bare gaps are left between them. Source: arithmetic. */
export const strokeOverlap = (settings: Walk, machine: Optics): number => 1 - 1 / strokesSeenByPoint(settings, machine);

/** Share of the surface that one pass touches at all: 1, or d/p when the pitch is wider than the spot. Source: arithmetic. */
export const touchedShare = (settings: Walk, machine: Optics): number =>
  Math.min(1, strokesSeenByPoint(settings, machine));
