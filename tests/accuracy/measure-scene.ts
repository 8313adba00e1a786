import { photoFromSeed } from '../../fixtures/generate/composed/photo-from-seed.ts';
import type { SceneOptions } from '../../fixtures/generate/scene/draw-scene.ts';
import { laserTruth } from '../../fixtures/generate/scene/laser-truth.ts';
import { assessPair } from '../../server/measure/assess-pair.ts';
import type { MeasuringTools } from '../../server/measure/read-surface.ts';
import { readCard } from '../../server/measure/view-surface.ts';
import { scaleErrorNear, surfaceZone } from './scene-truth.ts';

export interface SceneTask {
  readonly kind: 'scene';
  readonly seed: number;
  readonly isComposed: boolean;
  readonly options: SceneOptions;
  /** Whether the detector is told the settings. */
  readonly withSettings: boolean;
}

export interface SceneRow {
  readonly task: SceneTask;
  readonly fault: string | null;
  readonly isCardFound: boolean;
  readonly tiltDegrees: number;
  readonly kelvin: number;
  readonly exposureEv: number;
  readonly colourErrors: readonly number[];
  readonly scaleError: number | null;
  readonly residue: {
    readonly true: number;
    readonly value: number;
    readonly low: number;
    readonly high: number;
  } | null;
  readonly worstSquare: { readonly true: number; readonly value: number } | null;
  readonly streaks: StreakRow | null;
}

export interface StreakRow {
  readonly trueKind: string | null;
  readonly trueContrast: number;
  readonly truePitchMm: number | null;
  readonly trueDirection: number | null;
  /** Share of the treated area that stripes cover. */
  readonly trueCover: number;
  readonly photoPxPerMm: number;
  readonly found: boolean;
  readonly kind: string | null;
  readonly pitchMm: number | null;
  readonly pitchLow: number | null;
  readonly pitchHigh: number | null;
  readonly direction: number | null;
}

/** Renders one scene, measures it and sets the answer beside the truth. */
export async function measureScene(task: SceneTask, shared: string, tools: MeasuringTools): Promise<SceneRow> {
  const options = { withCard: true, ...task.options };
  const pictures = task.isComposed ? shared : null;
  const { spec, photo, truth } = await photoFromSeed(task.seed, { pictures, options });
  const base = {
    task,
    tiltDegrees: truth.tiltDegrees,
    kelvin: truth.illuminantKelvin,
    exposureEv: truth.exposureEv,
    isCardFound: false,
    colourErrors: [],
    scaleError: null,
    residue: null,
    worstSquare: null,
    streaks: null,
  };
  const card = readCard(photo, null, tools.kernel);
  if (!card.ok) return { ...base, fault: card.fault.code };
  const { located, normalisation } = card.value;
  if (located === null) return { ...base, fault: null };
  const seen = {
    ...base,
    isCardFound: true,
    colourErrors: normalisation.heldOutErrors,
    scaleError: scaleErrorNear(truth, photo, located),
  };
  const treatment = spec.surface.treatments.at(-1);
  const laser = task.withSettings && treatment !== undefined ? laserTruth(treatment) : null;
  const reading = await assessPair(
    {
      before: null,
      after: {
        photo,
        sha256: '0'.repeat(64),
        card: card.value,
        zone: surfaceZone(truth.zone.polygonMm),
        isMeasuredCard: false,
      },
      line: { settings: laser?.settings ?? null, strokesPerCycle: laser?.machine.strokesPerCycle ?? 2 },
    },
    tools,
  );
  if (!reading.ok) return { ...seen, fault: reading.fault.code };
  const { after, streaks } = reading.value.assessment;
  const { value, low, high } = after.residue;
  const trueStreaks = truth.zone.streaks;
  return {
    ...seen,
    fault: null,
    residue: { true: truth.zone.residue, value, low, high },
    worstSquare:
      truth.zone.worstUnitArea === null || after.worstUnitArea === null
        ? null
        : { true: truth.zone.worstUnitArea.residueFraction, value: after.worstUnitArea.residueFraction },
    streaks: {
      trueKind: trueStreaks?.kind ?? null,
      trueContrast: trueStreaks?.contrastDeltaE00 ?? 0,
      truePitchMm: trueStreaks?.pitchMm ?? null,
      trueDirection: trueStreaks?.directionDegrees ?? null,
      trueCover: trueStreaks?.affectedFraction ?? 0,
      photoPxPerMm: reading.value.after.view.placed.pxPerUnit,
      found: streaks.found,
      kind: streaks.kind,
      pitchMm: streaks.pitchMm?.value ?? null,
      pitchLow: streaks.pitchMm?.low ?? null,
      pitchHigh: streaks.pitchMm?.high ?? null,
      direction: streaks.directionDegrees,
    },
  };
}
