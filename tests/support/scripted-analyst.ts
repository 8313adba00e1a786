import sharp from 'sharp';
import { success } from '../../server/domain/index.ts';
import type { Comparison, Outcome } from '../../server/domain/index.ts';
import type { Analyst, AssessmentFindings, AssessmentTask, CardTask } from '../../server/services/analysis-ports.ts';
import { sampleAssessment } from './sample-assessment.ts';

/** A map of 8 x 4: the left half is rust, the right half bare, the last column lies outside the zone. */
const MAP_CODES = Uint8Array.from({ length: 32 }, (_, i) => (i % 8 === 7 ? 255 : i % 8 < 4 ? 3 : 1));

/** The second column is doubtful. */
const DOUBTFUL = Uint8Array.from({ length: 32 }, (_, i) => (i % 8 === 1 ? 1 : 0));

const png = (width: number, height: number, codes: Uint8Array): Promise<Buffer> =>
  sharp(codes, { raw: { width, height, channels: 1 } })
    .toColourspace('b-w')
    .png()
    .toBuffer();

/** What a test wants the next analyses to do, first one first; without a script they succeed. */
type Script = (() => Promise<Outcome<AssessmentFindings>>)[];

export interface ScriptedAnalyst extends Analyst {
  readonly script: Script;
  /** What was asked so far, oldest first. */
  readonly asked: readonly AssessmentTask[];
  /** Photos that a card was looked for in. */
  readonly looks: readonly CardTask[];
}

export async function findings(rust = 0.08): Promise<AssessmentFindings> {
  const map = {
    png: await png(8, 4, MAP_CODES),
    doubtfulPng: await png(8, 4, DOUBTFUL),
    widthPx: 8,
    heightPx: 4,
    photoPxPerPixel: 80,
    planeFromMap: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    surface: null,
    light: null,
  };
  return {
    assessment: sampleAssessment(rust),
    overlayPng: await png(2, 2, new Uint8Array(4)),
    classMaps: { before: null, after: map },
    streakLines: [
      [
        [0.5, 0],
        [0.5, 4],
      ],
    ],
  };
}

/** Stands in for the analysis where a test is about the server around it. */
export function scriptedAnalyst(): ScriptedAnalyst {
  const script: Script = [];
  const asked: AssessmentTask[] = [];
  const looks: CardTask[] = [];
  return {
    script,
    asked,
    places: 1,
    async assess(task, onStage) {
      asked.push(task);
      onStage('looking for the card', 0.25);
      const next = script.shift();
      return next === undefined ? success(await findings()) : next();
    },
    comparePatches(task): Promise<Outcome<Comparison>> {
      const { after, streaks, photos } = sampleAssessment();
      const zones = Object.fromEntries(task.patches.map(({ name }) => [name, { ...after, streaks }]));
      return Promise.resolve(
        success({ schema: 'bareplate/comparison@1', photo: photos.after, zones, pairs: [], warnings: [] }),
      );
    },
    looks,
    lookForCard(task) {
      looks.push(task);
      return Promise.resolve(
        success({
          cornersPx: [
            [10, 20],
            [60, 20],
            [60, 50],
            [10, 50],
          ],
          fault: null,
        }),
      );
    },
    stop: () => Promise.resolve(),
  };
}
