import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { OUTSIDE_CODE } from '../domain/paint-class-map.ts';
import { pictureLight } from '../measure/colour/picture-light.ts';
import type { PlacedZone } from '../measure/geometry/place-zone.ts';
import type { SurfaceReading } from '../measure/read-surface.ts';
import { codesInPhoto } from '../measure/segmentation/codes-in-photo.ts';
import { linesInMap } from '../measure/streaks/lines-in-map.ts';
import type { AssessmentFindings, AssessmentTask, ClassMapPng, OnStage } from './analysis-ports.ts';
import { assessPhotos } from './assess-photos.ts';
import type { AssessmentStage, AssessTools } from './assess-photos.ts';
import { drawOverlay } from './draw-overlay.ts';
import type { PicturePainter } from './ports.ts';

export interface AnalysisTools extends AssessTools {
  readonly painter: PicturePainter;
}

/** Longest side of a class map: a brush of 2 px is then about 2 mm on a zone of half a metre that fills the photo. */
const MOST_MAP_SIDE_PX = 1600;

/** Stages in words for the operator. With a before photo the photo stages come twice. */
const STAGE_WORDS: Readonly<Record<AssessmentStage | 'draw', string>> = {
  decode: 'opening the photos',
  view: 'bringing the zone to true colour and millimetres',
  segment: 'telling bare, stain, rust, scale and coating apart',
  measure: 'measuring what remains',
  streaks: 'searching for streaks',
  register: 'laying before and after on each other',
  advise: 'weighing the next settings',
  draw: 'drawing the pictures',
};
const STAGES_OF_A_PHOTO = 3;
const STAGES_OF_A_ROUND = 5;

/** The whole analysis of one round: assessment, overlay and class maps. */
export async function analyseRound(
  task: AssessmentTask,
  tools: AnalysisTools,
  onStage: OnStage,
): Promise<Outcome<AssessmentFindings>> {
  const stages = STAGES_OF_A_ROUND + STAGES_OF_A_PHOTO * (task.before === null ? 1 : 2);
  let begun = 0;
  const announce = (stage: AssessmentStage | 'draw'): void => {
    onStage(STAGE_WORDS[stage], Math.min(begun++ / stages, 0.99));
  };
  const { scrapeTest, ...request } = task;
  const reading = await assessPhotos(
    { ...request, ...(scrapeTest === null || scrapeTest === undefined ? {} : { scrapeTest }), onStage: announce },
    tools,
  );
  if (!reading.ok) return reading;
  announce('draw');
  const { assessment, before, after, streakLines } = reading.value;
  const afterMap = await drawClassMap(after, tools);
  return success({
    assessment,
    overlayPng: await drawOverlay(task.title, reading.value, tools.painter),
    classMaps: { before: before === null ? null : await drawClassMap(before, tools), after: afterMap },
    streakLines: linesInMap(streakLines, afterMap.planeFromMap),
  });
}

async function drawClassMap(
  { raster, view, segmentation }: SurfaceReading,
  { painter }: AnalysisTools,
): Promise<ClassMapPng> {
  const photoPxPerPixel = Math.max(1, Math.max(raster.width, raster.height) / MOST_MAP_SIDE_PX);
  const width = Math.max(1, Math.round(raster.width / photoPxPerPixel));
  const height = Math.max(1, Math.round(raster.height / photoPxPerPixel));
  const size = { width, height, photoPxPerPixel };
  const codes = codesInPhoto(view, segmentation, size, OUTSIDE_CODE);
  const { doubtful } = segmentation;
  const h = view.placed.map.fromIdeal.elements;
  const planeFromMap = h.map((element, index) => (index % 3 === 2 ? element : element * photoPxPerPixel));
  const png = await painter.classMap(codes, width, height);
  const doubtfulPng =
    doubtful === null ? null : await painter.classMap(codesInPhoto(view, { codes: doubtful }, size, 0), width, height);
  return {
    png,
    doubtfulPng,
    widthPx: width,
    heightPx: height,
    photoPxPerPixel,
    planeFromMap,
    surface: surfaceOf(view.placed),
    light: view.placed.unit === 'px' ? null : pictureLight(view.normalisation, middleOf(view.placed)),
  };
}

const middleOf = ({ polygon }: PlacedZone): readonly [number, number] => [
  polygon.reduce((sum, [x]) => sum + x, 0) / polygon.length,
  polygon.reduce((sum, [, y]) => sum + y, 0) / polygon.length,
];

/** What brings the photo to scale again, years later. */
function surfaceOf({ unit, map, polygon }: PlacedZone): ClassMapPng['surface'] {
  if (unit === 'px') return null;
  const { bend, centrePx, halfDiagonalPx } = map.lens;
  return {
    toIdealPx: [...map.toIdeal.elements],
    lens: { bend, centrePx: [centrePx[0], centrePx[1]], halfDiagonalPx },
    zoneMm: polygon.map(([x, y]) => [x, y]),
  };
}
