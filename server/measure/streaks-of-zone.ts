import { SURFACE_CLASSES } from '../domain/index.ts';
import type { Streaks, SurfaceClass } from '../domain/index.ts';
import { plane } from './raster/plane.ts';
import type { Plane } from './raster/plane.ts';
import { usableMask } from './raster/usable-mask.ts';
import type { SurfaceReading } from './read-surface.ts';
import { RESIDUE_PLANES } from './segmentation/segmentation.ts';
import type { Segmentation, SegmentedView } from './segmentation/segmentation.ts';
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
  const surface = streakSurface(view, segmentation, view.placed.pxPerUnit);
  const { streaks, explanation } = detectStreaks({ ...surface, ...line });
  const { settings, strokesPerCycle } = line;
  const { kind, pitchMm } = streaks;
  const travelSpeedMmPerS =
    kind === 'line-pitch' && pitchMm !== null && settings !== null
      ? travelSpeedFromPitch(pitchMm, settings, strokesPerCycle)
      : null;
  const full = { ...streaks, travelSpeedMmPerS };
  return { streaks: { ...full, because: explainStreaks(full, explanation, line) }, explanation };
}

/** The surface in which streaks are sought, as a segmenter has told it. */
export function streakSurface(view: SegmentedView, told: Segmentation, photoPxPerUnit: number): SurfaceInput {
  const share = (values: Uint8Array): Plane => ({
    width: told.codes.width,
    height: told.codes.height,
    values: Float32Array.from(values, (v) => v / 255),
  });
  const ofClass = (name: SurfaceClass): Plane => share(told.probabilities[SURFACE_CLASSES.indexOf(name)]);
  return {
    grid: view.grid,
    lab: view.lab,
    usable: usableMask(view.zone, told.blocked),
    residueProbability: residueProbabilityOf(told),
    filmProbability: { stain: ofClass('stain'), rust: ofClass('rust'), scale: ofClass('scale') },
    underDwellProbability: told.underDwell === null ? null : share(told.underDwell),
    photoPxPerUnit,
  };
}

/** Probability that a pixel is rust, scale or coating. */
function residueProbabilityOf({ codes, probabilities }: Segmentation): Plane {
  const out = plane(codes.width, codes.height);
  for (const k of RESIDUE_PLANES) {
    const part = probabilities[k];
    for (let i = 0; i < part.length; i++) out.values[i] += part[i] / 255;
  }
  return out;
}
