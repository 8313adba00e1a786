import { success } from '../domain/index.ts';
import type { Comparison, Outcome, SettingsFile, Zone } from '../domain/index.ts';
import { comparePatches } from '../measure/compare-patches.ts';
import { readSurface } from '../measure/read-surface.ts';
import type { SurfaceReading } from '../measure/read-surface.ts';
import { readingWarnings } from '../measure/reading-warnings.ts';
import { streaksOfZone } from '../measure/streaks-of-zone.ts';
import { minutesPerSquareMetreOf } from '../domain/kinematics/area-rate.ts';
import type { AssessTools } from './assess-photos.ts';
import { lineOfSettings } from './line-of-settings.ts';
import { cardValuesOf, openPhoto } from './open-photo.ts';

export interface PatchAsked {
  readonly name: string;
  readonly zone: Zone;
  readonly settings: SettingsFile | null;
}

export interface ComparisonRequest {
  readonly photo: Uint8Array;
  readonly patches: readonly PatchAsked[];
  readonly cardValues: string | null;
}

/** Measures several patches of one photo and says which differences are real. */
export async function comparePatchesOfPhoto(
  request: ComparisonRequest,
  tools: AssessTools,
): Promise<Outcome<Comparison>> {
  const values = cardValuesOf(request.cardValues);
  if (!values.ok) return values;
  const opened = await openPhoto(request.photo, values.value, tools);
  if (!opened.ok) return opened;
  const readings: { asked: PatchAsked; reading: SurfaceReading }[] = [];
  for (const asked of request.patches) {
    const reading = await readSurface({ ...opened.value, zone: asked.zone }, tools);
    if (!reading.ok) return reading;
    readings.push({ asked, reading: reading.value });
  }
  return success({
    schema: 'bareplate/comparison@1',
    photo: readings[0].reading.photo,
    zones: Object.fromEntries(readings.map(({ asked, reading }) => [asked.name, zoneOf(asked, reading)])),
    pairs: comparePatches(readings.map(({ asked, reading }) => [asked.name, reading] as const)),
    warnings: readings.flatMap(({ asked, reading }) => readingWarnings(reading, asked.name)),
  });
}

function zoneOf({ settings }: PatchAsked, reading: SurfaceReading): Comparison['zones'][string] {
  const { streaks } = streaksOfZone(reading, lineOfSettings(settings));
  return {
    ...reading.surface,
    streaks,
    ...(settings === null ? {} : { minutesPerSquareMetre: minutesPerSquareMetreOf(settings.settings) }),
  };
}
