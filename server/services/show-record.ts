import type { RecordContent, ZoneRecord } from '../domain/api/records.ts';
import { faultSentence } from '../domain/index.ts';
import type { Grade, InspectionRecord, Outcome, Readings } from '../domain/index.ts';
import { filesOfRecord } from '../evidence/bundle/gather-bundle.ts';
import { openRecord } from '../evidence/open-record.ts';
import { describePhotoTime } from '../evidence/report/describe-photo-time.ts';
import { warningsOf } from '../evidence/report/warnings-of.ts';
import { dewPointMargin } from '../domain/dew-point-margin.ts';
import { saltDensityMgPerM2 } from '../domain/salt-density.ts';
import { composeRecord } from './compose-record.ts';
import type { ComposePorts } from './compose-record.ts';
import type { StoredRecord } from './record-ports.ts';

/** A record as screens show it: a draft as it would be put together now, anything later as it was fixed. */
export async function showRecord(stored: StoredRecord, ports: ComposePorts): Promise<ZoneRecord> {
  const { text, seal, timeStamp, ...shown } = stored;
  const opening = text === null ? await composeRecord(stored, ports) : openRecord(JSON.parse(text));
  const { isTwoPersonRuleOn } = await ports.tables.shop.read();
  return {
    ...shown,
    computed: computedOf(stored.readings),
    content: opening.ok ? contentOf(opening.value) : null,
    obstacles: obstaclesOf(opening),
    prepared: opening.ok ? opening.value.prepared : null,
    decision: opening.ok ? opening.value.decision : null,
    seal: seal === null ? null : { recordSha256: seal.recordSha256, keyFingerprint: seal.keyFingerprint },
    hasTimeStamp: timeStamp !== null,
    isTwoPersonRuleOn,
  };
}

const obstaclesOf = (opening: Outcome<InspectionRecord>): string[] =>
  opening.ok ? [] : [faultSentence(opening.fault)];

function computedOf({ climate, solubleSalts }: Readings): ZoneRecord['computed'] {
  return {
    dewPoint: climate === null ? null : dewPointMargin(climate.value),
    saltDensityMgPerM2: solubleSalts === null ? null : saltDensityMgPerM2(solubleSalts.value),
  };
}

function contentOf(record: InspectionRecord): RecordContent {
  const { asked, rounds, machine, card, corrections } = record;
  const { assessment: last, corrected: lastCorrected, before, after } = rounds[rounds.length - 1];
  const asAsked = (grades: readonly Grade[]): RecordContent['grade'] => {
    const grade = grades.find((line) => line.standard === asked.standard && line.grade === asked.grade);
    return grade === undefined ? null : { decision: grade.decision, because: grade.because };
  };
  return {
    asked: { standard: asked.standard, grade: asked.grade, area: asked.area },
    grade: asAsked(last.grades),
    correctedGrade: asAsked(lastCorrected.after?.decided?.grades ?? []),
    rounds: rounds.map(({ number, treatedAt, settings, laserOnMinutes, note, before, assessment, corrected }) => ({
      number,
      treatedAt,
      settings,
      minutes: laserOnMinutes,
      note: note ?? null,
      hasBefore: before !== null,
      residueBefore: assessment.before?.residue ?? null,
      residueAfter: assessment.after.residue,
      stainAfter: assessment.after.fractions.stain,
      correctedResidueAfter: corrected.after?.residue ?? null,
    })),
    photoTimes: { before: before === null ? null : describePhotoTime(before), after: describePhotoTime(after) },
    machineName: machine.serialNumber === null ? machine.name : `${machine.name}, no. ${machine.serialNumber}`,
    cardValues: card.values,
    colourErrorMedianDeltaE00: last.photos.after.card.colourErrorDeltaE00?.median ?? null,
    correctionCount: corrections.filter(({ withdrawn }) => withdrawn === null).length,
    fileCount: filesOfRecord(record).length,
    warnings: warningsOf(record),
  };
}
