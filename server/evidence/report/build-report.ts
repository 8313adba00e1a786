import { UNIT_AREA_SIDE_MM } from '../../domain/index.ts';
import type { Grade, InspectionRecord, RecordRound, Seal, Surface, WorstUnitArea } from '../../domain/index.ts';
import { filesOfRecord } from '../bundle/gather-bundle.ts';
import { cautionsOf, limitsOf } from './cautions-and-limits.ts';
import { describeCorrected } from './describe-corrected.ts';
import { describeMethod } from './describe-method.ts';
import {
  describeCorrections,
  describeInstruments,
  describeReadings,
  describeRemarks,
  durationWords,
} from './describe-readings.ts';
import { describePicture, describeRounds, describeShares, describeStreaks } from './describe-rounds.ts';
import { describeSignature, describeVerdict } from './describe-signature.ts';
import { momentWords, percent, percentRange, quantityWords } from './quantity-words.ts';
import type { QuantityWords, UnitSystem } from './quantity-words.ts';
import { warningsOf } from './warnings-of.ts';
import type { GradeLine, KeyFigure, Report, ReportFact } from './report.ts';

export interface ReportOptions {
  readonly units: UnitSystem;
  /** Null for a draft. */
  readonly seal: Seal | null;
  /** SHA-256 of the record's canonical text. */
  readonly recordSha256: string;
  /** Where the record can be looked at; null where there is no such place. */
  readonly recordAddress: string | null;
}

/** The record in words, in the order of reading: what a manager needs first, then the evidence. */
export function buildReport(record: InspectionRecord, options: ReportOptions): Report {
  const words = quantityWords(options.units);
  const first = record.rounds[0];
  const last = record.rounds[record.rounds.length - 1];
  const surface = last.assessment.after;
  const before = first.assessment.before;
  const grades = last.assessment.grades.map((grade) => gradeLine(grade, record));
  const after = describePicture('After', last.after, surface, last.assessment.photos.after);
  const corrected = describeCorrected(record, after, words);
  return {
    recordId: record.id,
    recordSha256: options.recordSha256,
    date: record.decision?.signedAt ?? record.prepared?.at ?? last.treatedAt,
    title: record.zone.name,
    subtitle: `${record.job.name}, ${record.job.place}`,
    notices: noticesOf(record),
    verdict: describeVerdict(record),
    asked: grades.find((grade) => grade.isAsked) ?? null,
    askedCorrected: corrected?.grades.find((grade) => grade.isAsked) ?? null,
    askedWords: `${record.asked.standard}, ${record.asked.grade}`,
    summary: summaryOf(record, surface),
    figures: figuresOf(record, before, words),
    facts: factsOf(record, words),
    shares: describeShares(before, surface),
    before:
      first.before === null || before === null
        ? null
        : { ...describePicture('Before', first.before, before, first.assessment.photos.before), worstSquare: null },
    after,
    worstSquare: surface.worstUnitArea === null ? null : describeWorstSquare(surface.worstUnitArea, words),
    streaks: describeStreaks(last.assessment.streaks, words),
    rounds: describeRounds(record.rounds, words),
    grades,
    corrected,
    readings: describeReadings(record.readings, words),
    instruments: describeInstruments(record.readings),
    remarks: describeRemarks(record),
    corrections: describeCorrections(record, words),
    method: describeMethod(record, words),
    warnings: warningsOf(record),
    cautions: cautionsOf(record),
    limits: limitsOf(record),
    signature: describeSignature(record, options.seal),
    files: filesOfRecord(record),
    qrText: options.recordAddress ?? `Bareplate ${record.id} SHA-256 ${options.recordSha256}`,
    lengthUnit: options.units === 'metric' ? 'mm' : 'inch',
    surface,
  };
}

const isAskedIn =
  ({ standard, grade }: InspectionRecord['asked']) =>
  (line: Grade): boolean =>
    line.standard === standard && line.grade === grade;

const gradeLine = (grade: Grade, { asked }: InspectionRecord): GradeLine => ({
  ...grade,
  isAsked: isAskedIn(asked)(grade),
});

function noticesOf({ isInvented, decision }: InspectionRecord): string[] {
  const notices: string[] = [];
  if (isInvented) notices.push('Demonstration: people, readings and photos in this record are invented.');
  if (decision === null) notices.push('Draft: not signed, not sealed.');
  return notices;
}

function summaryOf({ asked, rounds }: InspectionRecord, surface: Surface): string[] {
  const { removed, grades } = rounds[rounds.length - 1].assessment;
  const sentences = [
    `${percent(surface.residue.value)} of the zone still carries rust, scale or paint (${percentRange(surface.residue)} with 95 % coverage).`,
  ];
  const first = rounds[0].assessment.before;
  if (first !== null) {
    const gone = rounds.length === 1 && removed !== null ? `, of which ${percent(removed.value)} is gone` : '';
    sentences.push(`It was ${percent(first.residue.value)} before the first round${gone}.`);
  }
  const { corrected } = rounds[rounds.length - 1];
  if (corrected.after !== null) {
    sentences.push(
      `With the corrections that people painted it is ${percent(corrected.after.residue)}; figures without that word are as measured.`,
    );
  }
  const grade = grades.find(isAskedIn(asked));
  sentences.push(
    grade === undefined
      ? `The grade asked for, ${asked.standard} ${asked.grade}, is not among those that this program compares with.`
      : `Asked: ${asked.standard}, ${asked.grade}. ${decisionSentence(grade)}`,
  );
  const anew = corrected.after?.decided?.grades.find(isAskedIn(asked));
  if (anew !== undefined) sentences.push(correctedSentence(anew));
  return sentences;
}

const DECISION_WORDS = {
  meets: 'The measurement meets it',
  'does not meet': 'The measurement does not meet it',
  'cannot tell': 'The measurement cannot tell',
} as const;

const CORRECTED_WORDS = {
  meets: 'As corrected by hand it meets it',
  'does not meet': 'As corrected by hand it does not meet it',
  'cannot tell': 'As corrected by hand it still cannot be told',
} as const;

const reason = (because: string): string => `${because.charAt(0).toLowerCase()}${because.slice(1)}`;
const decisionSentence = ({ decision, because }: Grade): string => `${DECISION_WORDS[decision]}: ${reason(because)}`;
const correctedSentence = ({ decision, because }: Grade): string => `${CORRECTED_WORDS[decision]}: ${reason(because)}`;

function figuresOf(record: InspectionRecord, before: Surface | null, words: QuantityWords): KeyFigure[] {
  const { after } = record.rounds[record.rounds.length - 1].assessment;
  const figures: KeyFigure[] = [
    { label: 'Residue left', value: percent(after.residue.value), note: percentRange(after.residue) },
    { label: 'Stain left', value: percent(after.fractions.stain.value), note: percentRange(after.fractions.stain) },
  ];
  if (after.worstUnitArea !== null) {
    const side = words.length(UNIT_AREA_SIDE_MM);
    figures.push({
      label: 'Worst square',
      value: percent(after.worstUnitArea.residueFraction),
      note: `residue in ${side} x ${side}`,
    });
  }
  if (before !== null) {
    figures.push({ label: 'At the start', value: percent(before.residue.value), note: percentRange(before.residue) });
  }
  return figures;
}

function factsOf(record: InspectionRecord, words: QuantityWords): ReportFact[] {
  const { rounds, asked, machine } = record;
  const last = rounds[rounds.length - 1];
  const { areaMm2 } = last.assessment.zone;
  return [
    { label: 'Zone', value: record.zone.about },
    {
      label: 'Area judged',
      value: areaMm2 === null ? 'not known: no card in view' : words.area(areaMm2),
      note: asked.area,
    },
    { label: 'Work', value: workWords(rounds), note: machine.name },
    { label: 'Time', value: timeWords(rounds, areaMm2, words) },
    { label: 'Last round', value: momentWords(last.treatedAt) },
    { label: 'Shop', value: record.shop.name },
  ];
}

function workWords(rounds: readonly RecordRound[]): string {
  const passes = rounds.reduce((sum, { settings }) => sum + settings.passes, 0);
  return `${rounds.length} ${rounds.length === 1 ? 'round' : 'rounds'}, ${passes} ${passes === 1 ? 'pass' : 'passes'}`;
}

function timeWords(rounds: readonly RecordRound[], areaMm2: number | null, words: QuantityWords): string {
  const noted = rounds.map(({ laserOnMinutes }) => laserOnMinutes).filter((minutes) => minutes !== null);
  if (noted.length === 0) return 'not noted';
  const total = noted.reduce((sum, minutes) => sum + minutes, 0);
  const missing = noted.length < rounds.length ? ` in ${noted.length} of ${rounds.length} rounds` : '';
  const rate = areaMm2 === null || missing !== '' ? '' : `, ${words.timePerArea(total / (areaMm2 / 1e6))}`;
  return `${durationWords(total)} laser on${missing}${rate}`;
}

function describeWorstSquare(worst: WorstUnitArea, words: QuantityWords): NonNullable<Report['worstSquare']> {
  const side = words.length(worst.sideMm);
  const offset = (mm: number, ahead: string, back: string): string =>
    `${words.length(Math.abs(mm))} ${mm < 0 ? back : ahead}`;
  return {
    sentence: `Of all squares of ${side} x ${side} within the zone, this one has the most residue. Blast-cleaning standards judge each such square.`,
    facts: [
      { label: 'Residue in the square', value: percent(worst.residueFraction) },
      {
        label: 'Stain in the square',
        value: percent(worst.stainFraction),
        note: 'the square with the most stain may be another one; grades take their stain from that',
      },
      {
        label: 'Its centre, from the card’s corner',
        value: `${offset(worst.centreMm[0], 'right', 'left')}, ${offset(worst.centreMm[1], 'down', 'up')}`,
      },
    ],
  };
}
