import { assumedMachine, failure, fraction, success } from '../domain/index.ts';
import type {
  Advice,
  Assessment,
  EarlierZone,
  Machine,
  Outcome,
  Round,
  SettingsFile,
  Warning,
  Zone,
} from '../domain/index.ts';
import { assessPair } from '../measure/assess-pair.ts';
import type { PairReading } from '../measure/assess-pair.ts';
import type { MeasuringStage } from '../measure/read-surface.ts';
import type { Segmenter } from '../measure/segmentation/segmentation.ts';
import { adviseOnRounds } from './advise-on-rounds.ts';
import { aimOfGrade, saysAdhesion } from './aim-of-grade.ts';
import type { GradeAim } from './aim-of-grade.ts';
import { COVERED_ALL_OVER } from './earlier-rounds.ts';
import { lineOfSettings } from './line-of-settings.ts';
import { measuredRound } from './measured-round.ts';
import type { StatedPatch } from './place-patches.ts';
import { cardValuesOf, openPhoto } from './open-photo.ts';
import type { OpenPhotoTools } from './open-photo.ts';

export interface AssessTools extends OpenPhotoTools {
  readonly segmenter: Segmenter;
}

export interface AssessmentRequest {
  readonly after: Uint8Array;
  readonly before: Uint8Array | null;
  /** Zone in the after photo; null: everything but the card. */
  readonly zone: Zone | null;
  /** Zone in the before photo. */
  readonly zoneBefore: Zone | null;
  /** CGATS text of the card's measured patches. */
  readonly cardValues: string | null;
  /** How the after state was made, with machine and surface where known. */
  readonly settings: SettingsFile | null;
  /** Earlier rounds of the same zone, oldest first, this one not among them. */
  readonly earlierRounds?: readonly Round[];
  /** Earlier zones of the same machine. */
  readonly earlierZones?: readonly EarlierZone[];
  readonly scrapeTest?: Round['scrapeTest'];
  /** Straw to blue colours seen by a person. */
  readonly heatTint?: boolean | null;
  /** Patches of the zone that were tried, oldest first; this round counts among those they may follow. */
  readonly testPatches?: readonly StatedPatch[];
  readonly areaM2?: number | null;
  /** Grade in words, as the operator says it. */
  readonly target: string | null;
  readonly onStage?: (stage: AssessmentStage) => void;
}
export type AssessmentStage = 'decode' | MeasuringStage | 'advise';

/** From two photo files to the assessment with its advice. */
export async function assessPhotos(request: AssessmentRequest, tools: AssessTools): Promise<Outcome<PairReading>> {
  const target = aimOfGrade(request.target);
  if (!target.ok) return target;
  const values = cardValuesOf(request.cardValues);
  if (!values.ok) return values;
  request.onStage?.('decode');
  // One is decoded by the codec's threads while the card is sought in the other.
  const [after, before] = await Promise.all([
    openPhoto(request.after, values.value, tools),
    request.before === null ? null : openPhoto(request.before, values.value, tools),
  ]);
  if (!after.ok) return after;
  if (before !== null && !before.ok) return before;
  if (before !== null && before.value.sha256 === after.value.sha256) return failure({ code: 'photos-identical' });
  const { settings, scrapeTest } = request;
  const reading = await assessPair(
    {
      before: before === null ? null : { ...before.value, zone: request.zoneBefore },
      after: { ...after.value, zone: request.zone },
      line: lineOfSettings(settings),
      ...(scrapeTest === undefined ? {} : { scrapeTest }),
    },
    {
      kernel: tools.kernel,
      segmenter: tools.segmenter,
      ...(request.onStage === undefined ? {} : { onStage: request.onStage }),
    },
  );
  if (!reading.ok) return reading;
  request.onStage?.('advise');
  const advised = adviceFor(request, target.value, reading.value.assessment);
  if (!advised.ok) return advised;
  const { assessment } = reading.value;
  return success({
    ...reading.value,
    assessment: {
      ...assessment,
      advice: advised.value.advice,
      warnings: [...assessment.warnings, ...advised.value.warnings],
    },
  });
}

interface Advised {
  readonly advice: Advice | null;
  readonly warnings: readonly Warning[];
}

function adviceFor(request: AssessmentRequest, aim: GradeAim, assessment: Assessment): Outcome<Advised> {
  const none = (code: string, message: string): Outcome<Advised> =>
    success({ advice: null, warnings: [{ code, message }] });
  if (request.settings === null) {
    return none('no-settings', 'No settings were given, so no next setting is advised.');
  }
  if (aim.residueFractionMax === null) {
    return none('target-without-share', saysAdhesion(aim));
  }
  const { settings, machine, surface, thicknessMm } = request.settings;
  const { earlierRounds = [], testPatches = [], areaM2, scrapeTest, heatTint } = request;
  const began = assessment.before?.residue.value ?? COVERED_ALL_OVER;
  const advising = adviseOnRounds({
    machine: machine ?? assumedMachine(settings),
    ...(surface === undefined ? {} : { surface }),
    ...(thicknessMm === undefined ? {} : { thicknessMm }),
    ...(areaM2 === undefined || areaM2 === null ? {} : { areaM2 }),
    target: { residueFractionMax: fraction(aim.residueFractionMax) },
    rounds: [...earlierRounds, measuredRound({ settings, scrapeTest, heatTint }, assessment, began)],
    patches: testPatches,
    earlierZones: [...(request.earlierZones ?? [])],
  });
  if (!advising.ok) return advising;
  const { advice, areEarlierLeftOut } = advising.value;
  const warnings = [...assumptions(aim, machine, assessment), ...(areEarlierLeftOut ? [EARLIER_ROUNDS_LEFT_OUT] : [])];
  return success({ advice, warnings });
}

const EARLIER_ROUNDS_LEFT_OUT: Warning = {
  code: 'earlier-rounds-left-out',
  message: 'The earlier rounds of this zone do not lead to what this round began with, so only this round was weighed.',
};

function* assumptions(aim: GradeAim, machine: Machine | undefined, assessment: Assessment): Generator<Warning> {
  if (aim.isAssumed) {
    yield { code: 'target-assumed', message: `No target grade was given; the advice aims at ${aim.words}.` };
  }
  if (machine === undefined) {
    yield {
      code: 'machine-assumed',
      message: 'No machine was described; usual dial ranges, a 2 mm spot and two strokes per cycle are assumed.',
    };
  }
  if (assessment.before === null) {
    yield {
      code: 'before-assumed',
      message: 'Without a before photo the zone is taken to have been covered all over before this round.',
    };
  }
}
