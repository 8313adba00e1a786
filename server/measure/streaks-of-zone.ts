import { SURFACE_CLASSES } from '../domain/index.ts';
import type { Streaks, SurfaceClass } from '../domain/index.ts';
import { plane } from './raster/plane.ts';
import type { Plane } from './raster/plane.ts';
import { usableMask } from './raster/usable-mask.ts';
import type { SurfaceReading } from './read-surface.ts';
import { RESIDUE_PLANES } from './segmentation/segmentation.ts';
import type { Segmentation } from './segmentation/segmentation.ts';
import type { LineAsSet } from './line-as-set.ts';
import { explainStreaks } from './streak-words.ts';
import { detectStreaks } from './streaks/detect-streaks.ts';
import type { StreakExplanation, SurfaceInput } from './streaks/streak-finding.ts';
import { travelSpeedFromPitch } from './streaks/travel-speed.ts';

/** The contract's streaks and what is needed to draw them and to doubt them. */
export interface ZoneStreaks {
  readonly streaks: Streaks;
  readonly explanation: StreakExplanation;
}

/** Looks for streaks in a zone that has been read, and says what they mean for the settings. */
export function streaksOfZone(reading: SurfaceReading, line: LineAsSet): ZoneStreaks {
  const { view, segmentation } = reading;
  const { streaks, explanation } = detectStreaks({
    grid: view.grid,
    lab: view.lab,
    usable: usableMask(view.zone, segmentation.blocked),
    residueProbability: residueProbabilityOf(segmentation),
    filmProbability: filmProbabilityOf(segmentation),
    underDwellProbability: underDwellProbabilityOf(segmentation),
    photoPxPerUnit: view.placed.pxPerUnit,
    ...line,
  });
  const { settings, strokesPerCycle } = line;
  const { kind, pitchMm } = streaks;
  const travelSpeedMmPerS =
    kind === 'line-pitch' && pitchMm !== null && settings !== null
      ? travelSpeedFromPitch(pitchMm, settings, strokesPerCycle)
      : null;
  const full = { ...streaks, travelSpeedMmPerS };
  return { streaks: { ...full, because: explainStreaks(full, explanation, line) }, explanation };
}

/** Probability that a pixel is rust, scale or coating. */
export function residueProbabilityOf({ codes, probabilities }: Segmentation): Plane {
  const out = plane(codes.width, codes.height);
  for (const k of RESIDUE_PLANES) {
    const part = probabilities[k];
    for (let i = 0; i < part.length; i++) out.values[i] += part[i] / 255;
  }
  return out;
}

/** Probability that a pixel lacked dwell; null where the segmenter does not tell. */
export const underDwellProbabilityOf = ({ codes, underDwell }: Segmentation): Plane | null =>
  underDwell === null
    ? null
    : { width: codes.width, height: codes.height, values: Float32Array.from(underDwell, (v) => v / 255) };

/** Probability of each class that streaks leave. */
export function filmProbabilityOf({
  codes,
  probabilities,
}: Segmentation): NonNullable<SurfaceInput['filmProbability']> {
  const share = (name: SurfaceClass): Plane => ({
    width: codes.width,
    height: codes.height,
    values: Float32Array.from(probabilities[SURFACE_CLASSES.indexOf(name)], (v) => v / 255),
  });
  return { stain: share('stain'), rust: share('rust'), scale: share('scale') };
}
