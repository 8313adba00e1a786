import { assumedMachine, failure, fraction, success } from '../domain/index.ts';
import type {
  Advice,
  Assessment,
  EarlierZone,
  Machine,
  Outcome,
  Round,
  SettingsFile,
  Streaks,
  Warning,
  Zone,
} from '../domain/index.ts';
import { assessPair } from '../measure/assess-pair.ts';
import type { PairReading } from '../measure/assess-pair.ts';
import { matchTarget, residueTargetOf } from '../measure/grade/match-target.ts';
import type { MeasuringStage } from '../measure/read-surface.ts';
import type { Segmenter } from '../measure/segmentation/segmentation.ts';
import { adviseNextRound } from '../process/advice/advise-next-round.ts';
import { lineOfSettings } from './line-of-settings.ts';
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
  /** Grade in words, as the operator says it. */
  readonly target: string | null;
  readonly onStage?: (stage: AssessmentStage) => void;
}
export type AssessmentStage = 'decode' | MeasuringStage | 'advise';

/** From two photo files to the assessment with its advice. */
export async function assessPhotos(request: AssessmentRequest, tools: AssessTools): Promise<Outcome<PairReading>> {
  const target = targetOf(request.target);
  if (!target.ok) return target;
  const values = cardValuesOf(request.cardValues);
  if (!values.ok) return values;
  request.onStage?.('decode');
  const after = await openPhoto(request.after, values.value, tools);
  if (!after.ok) return after;
  const before = request.before === null ? null : await openPhoto(request.before, values.value, tools);
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

interface Aim {
  readonly residueFractionMax: number | null;
  readonly words: string;
  readonly isAssumed: boolean;
}
/** What most coatings for steel in the weather ask for when nobody names a grade: common practice. */
const USUAL_TARGET = 'Sa 2 1/2';

function targetOf(text: string | null): Outcome<Aim> {
  const matched = matchTarget(text ?? USUAL_TARGET);
  if (!matched.ok) return matched;
  const { standard, grade } = matched.value;
  return success({
    residueFractionMax: residueTargetOf(matched.value),
    words: `${standard} ${grade}`,
    isAssumed: text === null,
  });
}

interface Advised {
  readonly advice: Advice | null;
  readonly warnings: readonly Warning[];
}

function adviceFor(request: AssessmentRequest, aim: Aim, assessment: Assessment): Outcome<Advised> {
  const none = (code: string, message: string): Outcome<Advised> =>
    success({ advice: null, warnings: [{ code, message }] });
  if (request.settings === null) {
    return none('no-settings', 'No settings were given, so no next setting is advised.');
  }
  if (aim.residueFractionMax === null) {
    return none(
      'target-without-share',
      `${aim.words} asks for adhesion, not for a share: a scrape test decides, and no setting is advised by area.`,
    );
  }
  const { settings, machine, surface, thicknessMm } = request.settings;
  const residueFractionMax = fraction(aim.residueFractionMax);
  const earlier = request.earlierRounds ?? [];
  const own = thisRound(request.settings, assessment, request.scrapeTest);
  const advise = (rounds: readonly Round[]): Outcome<Advice> =>
    adviseNextRound({
      machine: machine ?? assumedMachine(settings),
      ...(surface === undefined ? {} : { surface }),
      ...(thicknessMm === undefined ? {} : { thicknessMm }),
      target: { residueFractionMax },
      rounds: [...rounds],
      earlierZones: [...(request.earlierZones ?? [])],
    });
  const together = advise([...earlier, own]);
  const isContradicted = !together.ok && together.fault.code === 'history-contradictory' && earlier.length > 0;
  const advising = isContradicted ? advise([own]) : together;
  if (!advising.ok) return advising;
  const warnings = [...assumptions(aim, machine, assessment), ...(isContradicted ? [EARLIER_ROUNDS_LEFT_OUT] : [])];
  return success({ advice: advising.value, warnings });
}

const EARLIER_ROUNDS_LEFT_OUT: Warning = {
  code: 'earlier-rounds-left-out',
  message: 'The earlier rounds of this zone do not lead to what this round began with, so only this round was weighed.',
};

function* assumptions(aim: Aim, machine: Machine | undefined, assessment: Assessment): Generator<Warning> {
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

/** Share of a surface that nobody photographed before it was treated. */
const COVERED_ALL_OVER = 1;

function thisRound({ settings }: SettingsFile, assessment: Assessment, scrapeTest: Round['scrapeTest']): Round {
  const { value, low, high } = assessment.after.residue;
  const speed = measuredSpeed(assessment.streaks);
  return {
    settings,
    before: { residueFraction: fraction(assessment.before?.residue.value ?? COVERED_ALL_OVER) },
    after: { residueFraction: fraction(value), low: fraction(low), high: fraction(high) },
    heatTint: assessment.after.appearance.heatTintFraction > HEAT_TINT_SHARE,
    ...(scrapeTest === undefined ? {} : { scrapeTest }),
    ...(speed === null ? {} : { measuredTravelSpeedMmPerS: speed }),
  };
}
/** Below this the tint is as likely a reflection. Chosen by us. */
const HEAT_TINT_SHARE = 0.02;

const measuredSpeed = ({ travelSpeedMmPerS }: Streaks): Streaks['travelSpeedMmPerS'] =>
  travelSpeedMmPerS !== null && travelSpeedMmPerS.low > 0 ? travelSpeedMmPerS : null;
