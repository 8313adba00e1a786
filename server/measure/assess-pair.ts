import { ASSESSMENT_SCHEMA, success } from '../domain/index.ts';
import type { Assessment, Fraction, Grade, Outcome, Round, SurfacePoint, Warning } from '../domain/index.ts';
import { registerPhotos } from './geometry/register-photos.ts';
import type { Registration } from './geometry/register-photos.ts';
import { GRADE_REMARKS } from './grade/grade-remarks.ts';
import { gradeSurface } from './grade/grade-surface.ts';
import { worstSquareShares } from './grade/worst-square-shares.ts';
import type { LineAsSet } from './line-as-set.ts';
import { checkPair } from './pair-plausibility.ts';
import { readSurface } from './read-surface.ts';
import type { MeasuringTools, PhotoQuestion, SurfaceReading } from './read-surface.ts';
import { readingWarnings } from './reading-warnings.ts';
import { d610Grade, nearestRiDegree } from './residue/rust-degree.ts';
import { shareRemoved } from './residue/share-removed.ts';
import { streaksOfZone } from './streaks-of-zone.ts';

export interface PairQuestion {
  readonly before: PhotoQuestion | null;
  readonly after: PhotoQuestion;
  readonly line: LineAsSet;
  /** What a dull putty knife brought off, if somebody tried. */
  readonly scrapeTest?: Round['scrapeTest'];
}

/** The assessment without advice, which is not a measurement, and what pictures are drawn from. */
export interface PairReading {
  readonly assessment: Assessment;
  readonly before: SurfaceReading | null;
  readonly after: SurfaceReading;
  readonly registration: Registration | null;
  readonly streakLines: readonly (readonly SurfacePoint[])[];
}

/**
 * The map of the method. Each photo is read by itself: card found (readCard), colours normalised and zone brought to its
 * plane (viewSurface), told into classes (segmenter), measured (measureSurface). Then the two are compared: is it the same
 * surface (checkPair), what share is gone (shareRemoved), do marks agree (registerPhotos). The after photo is searched for
 * streaks (streaksOfZone) and compared with the grades (gradeSurface).
 */
export async function assessPair(question: PairQuestion, tools: MeasuringTools): Promise<Outcome<PairReading>> {
  const reading = await readSurface(question.after, tools);
  if (!reading.ok) return reading;
  const after = reading.value;
  const earlier = question.before === null ? null : await readSurface(question.before, tools);
  if (earlier !== null && !earlier.ok) return earlier;
  const before = earlier === null ? null : earlier.value;
  const plausibility = before === null ? success<Warning[]>([]) : checkPair(before, after);
  if (!plausibility.ok) return plausibility;
  tools.onStage?.('streaks');
  const { streaks, explanation } = streaksOfZone(after, question.line);
  tools.onStage?.('register');
  const registration = before === null ? null : registrationOf(before, after, tools);
  const assessment: Assessment = {
    schema: ASSESSMENT_SCHEMA,
    photos: { before: before?.photo ?? null, after: after.photo },
    zone: { areaMm2: after.areaMm2, polygonMm: polygonOf(after) },
    before: before?.surface ?? null,
    after: after.surface,
    removed: before === null ? null : shareRemoved(before.surface.residue, after.surface.residue),
    streaks,
    grades: gradesOf(after, question.scrapeTest),
    advice: null,
    equivalentRustedArea: before === null ? null : rustedAreaOf(before.surface.fractions.rust.value as Fraction),
    registration: registration === null ? null : { marksMatched: registration.marksMatched, rmsMm: registration.rmsMm },
    segmenter: after.segmentation.segmenter,
    remarks: [...GRADE_REMARKS, ONE_PLANE_REMARK],
    warnings: [
      ...(before === null ? [] : readingWarnings(before, 'before')),
      ...readingWarnings(after, 'after'),
      ...plausibility.value,
    ],
  };
  return success({ assessment, before, after, registration, streakLines: explanation.centreLines });
}

const ONE_PLANE_REMARK = 'Surface and card are taken as one plane; what stands out of it is measured where it appears.';
const RUSTED_AREA_REMARK =
  'Equivalent rusted area only: ASTM D610 and ISO 4628-3 rate rust on coated steel, and bare steel is outside their scope.';

const gradesOf = (after: SurfaceReading, scrapeTest: Round['scrapeTest']): Grade[] =>
  gradeSurface(after.surface, {
    worst: after.worst === null ? null : worstSquareShares(after.surface, after.worst),
    ...(scrapeTest === undefined ? {} : { scrapeTest }),
  });

const rustedAreaOf = (rusted: Fraction): NonNullable<Assessment['equivalentRustedArea']> => ({
  rustedFraction: rusted,
  d610Grade: d610Grade(rusted),
  nearestRiDegree: nearestRiDegree(rusted),
  remark: RUSTED_AREA_REMARK,
});

function registrationOf(before: SurfaceReading, after: SurfaceReading, tools: MeasuringTools): Registration | null {
  if (before.view.located === null || after.view.located === null) return null;
  return registerPhotos(
    { photo: before.raster, located: before.view.located },
    { photo: after.raster, located: after.view.located },
    tools.kernel,
  );
}

function polygonOf({ view }: SurfaceReading): [number, number][] | null {
  if (view.grid.unit !== 'mm' || view.placed.isWholePhoto) return null;
  return view.placed.polygon.map(([x, y]): [number, number] => [x, y]);
}
