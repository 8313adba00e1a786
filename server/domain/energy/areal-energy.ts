import type { Settings } from '../settings.ts';
import { joulesPerSquareCentimetre, type JoulesPerSquareCentimetre } from '../units.ts';

const SQUARE_MILLIMETRES_PER_SQUARE_CENTIMETRE = 100;

/**
 * Energy sent to a unit of surface by the whole round: P N / (W v). Independent of frequency and spot, so it holds
 * however the machine counts hertz. Before absorption. Source: arithmetic.
 */
export const arealEnergy = (
  settings: Pick<Settings, 'powerW' | 'scanWidthMm' | 'travelSpeedMmPerS' | 'passes'>,
): JoulesPerSquareCentimetre =>
  joulesPerSquareCentimetre(
    (SQUARE_MILLIMETRES_PER_SQUARE_CENTIMETRE * settings.powerW * settings.passes) /
      (settings.scanWidthMm * settings.travelSpeedMmPerS),
  );
