import { success } from '../domain/index.ts';
import type { Comparison, Outcome, SettingsFile, Zone } from '../domain/index.ts';
import { referenceCard } from '../measure/card/card-layout.ts';
import { readCardValues } from '../measure/card/read-card-values.ts';
import { comparePatches } from '../measure/compare-patches.ts';
import { readSurface } from '../measure/read-surface.ts';
import type { SurfaceReading } from '../measure/read-surface.ts';
import { readingWarnings } from '../measure/reading-warnings.ts';
import { streaksOfZone } from '../measure/streaks-of-zone.ts';
import { readCard } from '../measure/view-surface.ts';
import { minutesPerSquareMetreOf } from '../process/kinematics/area-rate.ts';
import type { AssessTools } from './assess-photos.ts';

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
  const values = request.cardValues === null ? null : readCardValues(request.cardValues, referenceCard());
  if (values !== null && !values.ok) return values;
  const cardValues = values === null ? null : values.value;
  const decoding = await tools.decoder.decode(request.photo);
  if (!decoding.ok) return decoding;
  const { raster, sha256 } = decoding.value;
  const card = readCard(raster, cardValues, tools.kernel);
  if (!card.ok) return card;
  const readings: { asked: PatchAsked; reading: SurfaceReading }[] = [];
  for (const asked of request.patches) {
    const reading = await readSurface(
      { photo: raster, sha256, card: card.value, zone: asked.zone, isMeasuredCard: cardValues !== null },
      tools,
    );
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
  const { streaks } = streaksOfZone(reading, {
    settings: settings?.settings ?? null,
    strokesPerCycle: settings?.machine?.strokesPerCycle ?? 2,
  });
  return {
    ...reading.surface,
    streaks,
    ...(settings === null ? {} : { minutesPerSquareMetre: minutesPerSquareMetreOf(settings.settings) }),
  };
}
