import type { GradeLine, Report } from '../../../evidence/report/report.ts';
import { writeParagraph } from '../millimetre-page.ts';
import { LEGEND_HEIGHT_MM, drawLegend } from './class-legend.ts';
import { fittingScale } from './draw-picture.ts';
import { writeFacts } from './fact-rows.ts';
import { keepUnits } from './keep-units.ts';
import { writePicture } from './manager-page.ts';
import { DECISION_COLOUR, drawDecision } from './marks.ts';
import type { PageFlow } from './page-flow.ts';
import { BODY, BODY_STRONG, SMALL } from './report-document.ts';
import type { ReportPictures } from './report-pictures.ts';
import { LARGE_ROOM, SQUARE_ROOM } from './report-pictures.ts';
import { writeRounds } from './rounds-section.ts';
import { writeSignature } from './signature-section.ts';
import { writeTable } from './table.ts';

/** Everything that stands behind the first page. */
export function writeEvidencePages(flow: PageFlow, report: Report, pictures: ReportPictures): void {
  flow.newPage();
  flow.section('Photos at scale');
  writeLargePictures(flow, report, pictures);
  writeClasses(flow, report, pictures);
  writeWorstSquare(flow, report, pictures);
  writeStreaks(flow, report);
  writeGrades(flow, report);
  writeCorrected(flow, report, pictures);
  writeRounds(flow, report, pictures);
  writeReadings(flow, report);
  writeMethod(flow, report);
  flow.section('Cautions');
  flow.list(report.cautions);
  flow.section('What this record cannot show');
  flow.list(report.limits);
  writeSignature(flow, report);
}

const CAPTION_MM = 14;
/** Beside a picture its notes need at least this much. */
const NOTES_MM = 32;

/** Before and after beneath each other on one page, at one scale, with their notes beside them. */
function writeLargePictures(flow: PageFlow, report: Report, { before, after }: ReportPictures): void {
  const all = [
    ...(before === null || report.before === null ? [] : [{ picture: report.before, scaled: before }]),
    { picture: report.after, scaled: after },
  ];
  const room = {
    widthMm: flow.width - NOTES_MM - 4,
    heightMm: Math.min(LARGE_ROOM.heightMm, flow.room / 2 - CAPTION_MM),
  };
  const scales = all.map(({ scaled }) => fittingScale(scaled, room));
  const isOneUnit = new Set(all.map(({ scaled }) => scaled.frame.unit)).size === 1;
  const smallest = scales.reduce((least, scale) => (scale.paperPerUnit < least.paperPerUnit ? scale : least));
  all.forEach(({ picture, scaled }, at) => {
    const scale = isOneUnit ? smallest : scales[at];
    flow.ensure(scaled.frame.height * scale.paperPerUnit + CAPTION_MM);
    const top = flow.y + 4.4;
    flow.y = writePicture(flow, { report, picture, scaled }, { x: flow.left, y: flow.y, ...scale }) + 4;
    writeNotes(flow, picture.notes, { x: flow.left + scaled.frame.width * scale.paperPerUnit + 4, y: top });
  });
}

function writeNotes(flow: PageFlow, notes: readonly string[], { x, y }: { x: number; y: number }): void {
  const width = flow.left + flow.width - x;
  let top = y;
  for (const note of notes) {
    flow.tagged('P', () => {
      top = writeParagraph(flow.doc, keepUnits(note), { x, y: top, width }, SMALL) + 1;
    });
  }
}

const roomFor = (flow: PageFlow): { widthMm: number; heightMm: number } => ({ ...LARGE_ROOM, widthMm: flow.width });

function writeClasses(flow: PageFlow, report: Report, { classes }: ReportPictures): void {
  const height = classes === null ? 20 : classes.frame.height * fittingScale(classes, roomFor(flow)).paperPerUnit;
  flow.section('What was found where', height + 30);
  if (classes === null) {
    flow.paragraph('The record holds no class map.');
    return;
  }
  const picture = { ...report.after, title: 'Classes after the last round' };
  const scale = fittingScale(classes, roomFor(flow));
  flow.y = writePicture(flow, { report, picture, scaled: classes }, { x: flow.left, y: flow.y, ...scale });
  const top = flow.y + 1.5;
  flow.tagged('P', () => {
    drawLegend(flow.doc, report.shares, { x: flow.left, y: top, width: flow.width });
  });
  flow.y = top + LEGEND_HEIGHT_MM;
  const unmeasured = unmeasuredWords(report.surface.unmeasuredFraction);
  flow.paragraph(
    `Shares of the measured part, with intervals of 95 % coverage. ${unmeasured} The heavy square is the worst one.`,
    SMALL,
  );
}

/** What glare, shadow and blur hid of the zone, with one digit where that says something. */
function unmeasuredWords(share: number): string {
  if (share === 0) return 'All of the zone could be measured.';
  const percent = 100 * share;
  const words = percent < 0.1 ? 'Less than 0.1' : percent.toFixed(1);
  return `${words} % of the zone could not be measured (glare, shadow, blur).`;
}

function writeWorstSquare(flow: PageFlow, report: Report, { square, squareClasses }: ReportPictures): void {
  if (report.worstSquare === null) return;
  flow.section('Worst square', square === null ? 30 : SQUARE_ROOM.heightMm + 40);
  flow.paragraph(report.worstSquare.sentence);
  flow.space(1.5);
  if (square !== null) {
    const scale = fittingScale(square, SQUARE_ROOM);
    const both = [
      { title: 'Photo', scaled: square },
      ...(squareClasses === null ? [] : [{ title: 'Classes', scaled: squareClasses }]),
    ];
    const top = flow.y;
    let bottom = top;
    both.forEach(({ title, scaled }, at) => {
      const picture = { ...report.after, title, worstSquare: null, description: `${title} of the worst square.` };
      const x = flow.left + at * (SQUARE_ROOM.widthMm + 6);
      bottom = writePicture(
        flow,
        { report, picture, scaled: { ...scaled, frame: { ...scaled.frame, zone: null } } },
        { x, y: top, ...scale },
      );
    });
    flow.y = bottom + 1;
  }
  writeFacts(flow, report.worstSquare.facts);
}

/** One of the streaks' facts with its note, at most. */
const FACT_MM = 9;

/** The sentence and its few facts are read together: on one page. */
function writeStreaks(flow: PageFlow, { streaks }: Report): void {
  flow.section('Streaks', 12 + FACT_MM * streaks.facts.length);
  flow.paragraph(streaks.sentence);
  if (streaks.facts.length > 0) writeFacts(flow, streaks.facts);
}

function writeGrades(flow: PageFlow, { grades }: Report): void {
  flow.section('Compared with published grades', 40);
  if (grades.length === 0) {
    flow.paragraph('No grade was compared.');
    return;
  }
  flow.paragraph('The line with the grey ground is the grade that was asked for.', SMALL);
  flow.space(1);
  writeGradeTable(flow, grades, 'Measurement');
}

/** What people's corrections come to stands by itself, and never in place of what was measured. */
function writeCorrected(flow: PageFlow, report: Report, { corrected: picture }: ReportPictures): void {
  const { corrected } = report;
  if (corrected === null) return;
  const scale = picture === null ? null : fittingScale(picture, roomFor(flow));
  const height = picture === null || scale === null ? 20 : picture.frame.height * scale.paperPerUnit + LEGEND_HEIGHT_MM;
  flow.section('As corrected by hand', height + 30);
  flow.paragraph(corrected.sentence);
  flow.space(1.5);
  if (picture !== null && scale !== null && corrected.picture !== null) {
    const place = { x: flow.left, y: flow.y, ...scale };
    flow.y = writePicture(flow, { report, picture: corrected.picture, scaled: picture }, place);
    const top = flow.y + 1.5;
    flow.tagged('P', () => {
      drawLegend(flow.doc, corrected.shares, { x: flow.left, y: top, width: flow.width });
    });
    flow.y = top + LEGEND_HEIGHT_MM;
  }
  if (corrected.facts.length > 0) writeFacts(flow, corrected.facts);
  if (corrected.grades.length === 0) return;
  flow.subheading('Grades decided anew on the corrected map');
  writeGradeTable(flow, corrected.grades, 'Corrected');
}

function writeGradeTable(flow: PageFlow, grades: readonly GradeLine[], decided: string): void {
  writeTable(
    flow,
    [
      { title: 'Standard', part: 0.25 },
      { title: 'Grade', part: 0.18 },
      { title: decided, part: 0.19 },
      { title: 'Because', part: 0.38 },
    ],
    grades.map((line) => ({ isMarked: line.isAsked, cells: gradeCells(flow, line) })),
  );
}

function gradeCells(
  flow: PageFlow,
  { standard, grade, decision, because }: GradeLine,
): Parameters<typeof writeTable>[2][number]['cells'] {
  const draw = (x: number, y: number): void => {
    drawDecision(flow.doc, decision, { x, y: y + 0.1, sizeMm: 3.6 });
  };
  return [
    { text: standard, lettering: BODY },
    { text: grade, lettering: BODY_STRONG },
    {
      text: decision,
      lettering: { ...BODY_STRONG, colour: DECISION_COLOUR[decision] },
      mark: { inset: 5, draw, alt: decision },
    },
    { text: because, lettering: { ...BODY, sizeMm: 2.8 } },
  ];
}

function writeReadings(flow: PageFlow, { readings, instruments, remarks, corrections }: Report): void {
  flow.section('Readings on the steel and in the air', 40);
  flow.paragraph(
    'No photo shows these. The sign of a person stands before everything that somebody read and typed in.',
    SMALL,
  );
  flow.space(1);
  writeFacts(flow, readings);
  if (instruments.length > 0) {
    flow.subheading('Instruments');
    writeFacts(flow, instruments);
  }
  if (remarks.length > 0) {
    flow.subheading('Remarks');
    writeFacts(flow, remarks);
  }
  flow.subheading('Corrections painted by hand');
  if (corrections.length === 0) flow.paragraph('None: the classes are as the program found them.');
  else writeFacts(flow, corrections);
}

function writeMethod(flow: PageFlow, { method, warnings, facts }: Report): void {
  flow.section('How it was measured', 30);
  writeFacts(flow, [...facts, ...method]);
  if (warnings.length === 0) return;
  flow.subheading('Warnings of the program');
  flow.list(warnings);
}
