import type { Report, RoundLine } from '../../../evidence/report/report.ts';
import { INK, writeLine } from '../millimetre-page.ts';
import { drawPicture } from './draw-picture.ts';
import type { PageFlow } from './page-flow.ts';
import { BODY, BODY_STRONG, SMALL } from './report-document.ts';
import type { ReportPictures } from './report-pictures.ts';
import { ROUND_ROOM } from './report-pictures.ts';
import type { ScaledPicture } from './scaled-picture.ts';
import { writeTable } from './table.ts';

const COLUMNS = [
  { title: 'Round', part: 0.055 },
  { title: 'When (UTC)', part: 0.165 },
  { title: 'Settings', part: 0.315 },
  { title: 'Laser on', part: 0.09 },
  { title: 'Before', part: 0.08 },
  { title: 'Residue after', part: 0.17 },
  { title: 'Streaks', part: 0.125 },
] as const;

/** Settings, time and outcome of every round, then small pictures of each. */
export function writeRounds(flow: PageFlow, report: Report, pictures: ReportPictures): void {
  flow.section('Rounds, settings and time', 40);
  const small = { ...BODY, sizeMm: 2.8 };
  writeTable(
    flow,
    COLUMNS,
    report.rounds.map((round) => ({
      cells: [
        { text: String(round.number), lettering: { ...BODY_STRONG, sizeMm: 2.8 } },
        ...[
          round.at.replace(' UTC', ''),
          `${round.power}, ${round.scanWidth}, ${round.frequency}, ${round.travel}, ${round.passes}${round.passes === '1' ? ' pass' : ' passes'}`,
          round.minutes,
          round.residueBefore,
          round.residueAfter,
          round.streaks,
        ].map((text) => ({ text, lettering: small })),
      ],
    })),
  );
  if (report.rounds.length < 2) return;
  flow.subheading('Before and after each round', 50);
  const columns = 2;
  for (let first = 0; first < report.rounds.length; first += columns) {
    const rounds = report.rounds.slice(first, first + columns);
    writePairs(flow, rounds, pictures.rounds.slice(first, first + columns));
  }
}

const NAME_MM = 4.5;

/** Two rounds beside each other, each as a pair of pictures. */
function writePairs(flow: PageFlow, rounds: readonly RoundLine[], pictures: ReportPictures['rounds']): void {
  const shown = pictures.flatMap(({ before, after }) => (before === null ? [after] : [before, after]));
  const height = NAME_MM + 4 + Math.max(...shown.map((picture) => picture.frame.height * toFit(picture)));
  flow.ensure(height);
  const column = flow.width / 2;
  const top = flow.y;
  rounds.forEach((round, at) => {
    const x = flow.left + at * column;
    flow.tagged('Caption', () => {
      const words = `Round ${round.number}: residue ${round.residueBefore} to ${round.residueAfter}`;
      writeLine(flow.doc, words, [x, top + 3], { ...SMALL, colour: INK, weight: 'semibold', anchor: 'start' });
    });
    const { before, after } = pictures[at];
    if (before !== null && round.before !== null) drawSmall(flow, before, round.before.description, [x, top + NAME_MM]);
    drawSmall(flow, after, round.after.description, [x + ROUND_ROOM.widthMm + 1.5, top + NAME_MM]);
  });
  flow.y = top + height;
}

/** Small pictures fill their room; only the large ones are at a round scale. */
const toFit = ({ frame }: ScaledPicture): number =>
  Math.min(ROUND_ROOM.widthMm / frame.width, ROUND_ROOM.heightMm / frame.height);

function drawSmall(flow: PageFlow, picture: ScaledPicture, alt: string, [x, y]: readonly [number, number]): void {
  flow.tagged(
    'Figure',
    () => {
      drawPicture(flow.doc, picture, { x, y, paperPerUnit: toFit(picture) });
    },
    alt,
  );
}
