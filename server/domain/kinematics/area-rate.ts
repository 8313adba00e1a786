import type { Settings } from '../settings.ts';
import { minutesPerSquareMetre, type MinutesPerSquareMetre } from '../units.ts';

type Walk = Pick<Settings, 'scanWidthMm' | 'travelSpeedMmPerS' | 'passes'>;

const SQUARE_MILLIMETRES_PER_SQUARE_METRE = 1e6;
const SECONDS_PER_HOUR = 3600;

/**
 * Area cleaned in an hour of beam time, all passes done: W v / N (m2/h). Swath overlap, turning and photographs are not
 * counted. Source: arithmetic.
 */
export const squareMetresPerHour = (settings: Walk): number =>
  (settings.scanWidthMm * settings.travelSpeedMmPerS * SECONDS_PER_HOUR) /
  (settings.passes * SQUARE_MILLIMETRES_PER_SQUARE_METRE);

/** Beam time for a square metre, all passes: the inverse of {@link squareMetresPerHour}, in minutes. Source: arithmetic. */
export const minutesPerSquareMetreOf = (settings: Walk): MinutesPerSquareMetre =>
  minutesPerSquareMetre(60 / squareMetresPerHour(settings));
