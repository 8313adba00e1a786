import type { ZoneAssessment } from '../domain/api/assessments.ts';
import type { Correction } from '../domain/api/corrections.ts';
import { MOST_PAGE_ITEMS } from '../domain/api/paging.ts';
import type { PhotoRole } from '../domain/api/photos.ts';
import type { ZoneRound } from '../domain/api/rounds.ts';
import type { JobZone } from '../domain/api/zones.ts';
import {
  RECORD_SCHEMA,
  assumedMachine,
  failure,
  inspectionRecordSchema,
  joinSentences,
  success,
} from '../domain/index.ts';
import type { InspectionRecord, Outcome, RecordPerson, RecordPhoto, RecordRound, Settings } from '../domain/index.ts';
import { canonicalJson } from '../evidence/canonical-json.ts';
import { referenceCard } from '../measure/card/card-layout.ts';
import { matchTarget, residueTargetOf } from '../measure/grade/match-target.ts';
import { absent } from './absent.ts';
import type { Tables } from './ledger.ts';
import type { ObjectStore } from './object-ports.ts';
import type { StoredRecord } from './record-ports.ts';
import type { AssessmentFiles } from './work-ports.ts';

type ComposeTables = Pick<
  Tables,
  | 'zones'
  | 'jobs'
  | 'rounds'
  | 'assessments'
  | 'corrections'
  | 'photos'
  | 'machines'
  | 'cards'
  | 'shop'
  | 'people'
  | 'records'
>;

export interface ComposePorts {
  readonly tables: ComposeTables;
  readonly objects: Pick<ObjectStore, 'put'>;
}

/** A round with its newest answer. */
interface AnsweredRound {
  readonly round: ZoneRound;
  readonly settings: Settings;
  readonly assessment: ZoneAssessment;
  readonly result: NonNullable<ZoneAssessment['result']>;
  readonly files: AssessmentFiles;
  readonly corrections: readonly Correction[];
}

const conflict = (detail: string): Outcome<never> => failure({ code: 'state-conflict', detail });

/** Puts the record of a zone together from what the ledger holds now; says what is missing. Nothing is kept by it. */
export async function composeRecord(record: StoredRecord, ports: ComposePorts): Promise<Outcome<InspectionRecord>> {
  const { tables } = ports;
  const zone = await tables.zones.find(record.zoneId);
  if (zone === null) return absent('zone', record.zoneId);
  const asked = await askedOf(zone, tables);
  if (!asked.ok) return asked;
  const answered = await answeredRounds(zone.id, tables);
  if (!answered.ok) return answered;
  const job = await tables.jobs.find(zone.jobId);
  const shop = await tables.shop.read();
  const last = answered.value[answered.value.length - 1];
  const composed: InspectionRecord = inspectionRecordSchema.parse({
    schema: RECORD_SCHEMA,
    id: recordName(record.id),
    supersedes: await supersededBy(record, tables),
    isInvented: zone.isInvented,
    shop: { name: shop.name || 'shop without a name' },
    job: { name: zone.jobName, place: job?.customer || 'customer not stated' },
    zone: { name: zone.name, about: aboutZone(zone) },
    asked: asked.value,
    machine: await machineOf(last, tables),
    card: await cardOf(last, ports),
    rounds: await roundsOf(answered.value, tables),
    corrections: await correctionsOf(answered.value, tables),
    readings: record.readings,
    versions: { program: last.assessment.programVersion, segmenter: last.result.segmenter ?? 'not stated' },
    prepared: null,
    decision: null,
  } satisfies InspectionRecord);
  return success(composed);
}

/** The name that a record carries outside of this program. */
export const recordName = (id: string): string => `record-${id}`;

async function supersededBy(
  { supersedesId }: StoredRecord,
  { records }: ComposeTables,
): Promise<InspectionRecord['supersedes']> {
  const old = supersedesId === null ? null : await records.find(supersedesId);
  const seal = old?.seal ?? null;
  return old === null || seal === null ? null : { id: recordName(old.id), sha256: seal.recordSha256 };
}

async function askedOf(zone: JobZone, { shop }: ComposeTables): Promise<Outcome<InspectionRecord['asked']>> {
  const target = zone.targetGrade ?? (await shop.read()).usualTargetGrade;
  if (target === null) return conflict('the zone has no target grade; state what was asked first');
  const matching = matchTarget(target);
  if (!matching.ok) return matching;
  const { standard, grade } = matching.value;
  const residueFractionMax = residueTargetOf(matching.value) as InspectionRecord['asked']['residueFractionMax'];
  const area =
    zone.areaM2 === null ? 'as outlined in the photos' : `${zone.areaM2} m² stated; judged as outlined in the photos`;
  return success({ standard, grade, residueFractionMax, area });
}

const aboutZone = ({ surfaceKind, thicknessMm, note }: JobZone): string => {
  const plate = thicknessMm === null ? '' : `${thicknessMm} mm plate`;
  const parts = [surfaceKind, plate, note].filter((part) => part !== '');
  return parts.length === 0 ? 'not described' : parts.join('; ');
};

/** Every round with an after photo must have its answer and its settings; one that has no photo yet is not part of it. */
async function answeredRounds(zoneId: string, tables: ComposeTables): Promise<Outcome<readonly AnsweredRound[]>> {
  const answered: AnsweredRound[] = [];
  for (const round of await allRounds(zoneId, tables)) {
    if (round.after === null) continue;
    const answering = await answerOf(round, tables);
    if (!answering.ok) return answering;
    answered.push(answering.value);
  }
  return answered.length === 0 ? conflict('no round of this zone has an after photo yet') : success(answered);
}

async function allRounds(zoneId: string, { rounds }: ComposeTables): Promise<ZoneRound[]> {
  const found: ZoneRound[] = [];
  let cursor: string | undefined;
  do {
    const page = await rounds.list(zoneId, { sort: 'number', limit: MOST_PAGE_ITEMS, cursor });
    found.push(...page.items);
    cursor = page.nextCursor ?? undefined;
  } while (cursor !== undefined);
  return found;
}

async function answerOf(
  round: ZoneRound,
  { assessments, corrections }: ComposeTables,
): Promise<Outcome<AnsweredRound>> {
  const { items } = await assessments.list({ roundId: round.id, state: 'done', sort: '-queuedAt', limit: 1 });
  const newest = items.at(0);
  if (newest === undefined || round.latest?.state !== 'done') {
    return conflict(`round ${round.number} has photos but no answer yet; let it be measured first`);
  }
  const assessment = await assessments.find(newest.id);
  const files = await assessments.filesOf(newest.id);
  const result = assessment?.result ?? null;
  if (assessment === null || result === null || files === null) return absent('assessment', newest.id);
  const { settings } = assessment.basis;
  if (settings === null) return conflict(`round ${round.number} does not say how the machine was set`);
  return success({ round, settings, assessment, result, files, corrections: await corrections.list(newest.id) });
}

async function roundsOf(answered: readonly AnsweredRound[], tables: ComposeTables): Promise<RecordRound[]> {
  const rounds: RecordRound[] = [];
  for (const [index, { round, settings, assessment, result, files }] of answered.entries()) {
    const number = index + 1;
    const photo = (role: PhotoRole): Promise<RecordPhoto | null> =>
      photoOf({ number, role, assessment, files }, tables);
    const after = await photo('after');
    if (after === null) throw new Error(`Expected the after photo of assessment ${assessment.id}`);
    rounds.push({
      number,
      treatedAt: round.createdAt,
      settings,
      laserOnMinutes: round.minutesSpent,
      ...noteOf(round),
      before: await photo('before'),
      after,
      assessment: result,
      corrected: assessment.corrected,
    });
  }
  return rounds;
}

/** Remarks of the round, and what a person saw that is no measurement. */
function noteOf({ note, heatTint }: ZoneRound): { note?: string } {
  const words = joinSentences(note.trim(), heatTint === true ? 'Straw to blue colours seen by a person.' : '');
  return words === '' ? {} : { note: words };
}

interface PhotoPlace {
  readonly number: number;
  readonly role: PhotoRole;
  readonly assessment: ZoneAssessment;
  readonly files: AssessmentFiles;
}

async function photoOf(
  { number, role, assessment, files }: PhotoPlace,
  { photos }: ComposeTables,
): Promise<RecordPhoto | null> {
  const id = assessment.photos[role];
  const stored = id === null ? null : await photos.find(id);
  if (stored === null) return null;
  const map = files.classMaps[role];
  const corrected = files.correctedMaps[role];
  return {
    file: { path: `photos/round-${number}-${role}.${endingOf(stored.mediaType)}`, sha256: stored.sha256 },
    takenAt: stored.takenAt,
    receivedAt: stored.addedAt,
    surface: map?.surface ?? null,
    classMap: map === null ? null : { path: `class-maps/round-${number}-${role}.png`, sha256: map.sha256 },
    correctedClassMap:
      corrected === null ? null : { path: `class-maps/round-${number}-${role}-corrected.png`, sha256: corrected },
  };
}

/** "image/jpeg" ends files in "jpg". */
const endingOf = (mediaType: string): string => {
  const subtype =
    mediaType
      .split('/')
      .at(-1)
      ?.replace(/[^a-z0-9]/g, '') ?? '';
  return { jpeg: 'jpg', '': 'bin', octetstream: 'bin' }[subtype] ?? subtype;
};

async function machineOf(
  { assessment, settings }: AnsweredRound,
  { machines }: ComposeTables,
): Promise<InspectionRecord['machine']> {
  const { machineId } = assessment.basis;
  const machine = machineId === null ? null : await machines.find(machineId);
  return machine === null
    ? { name: 'not stated; usual limits assumed', serialNumber: null, limits: assumedMachine(settings) }
    : { name: machine.name, serialNumber: machine.serialNumber || null, limits: machine.machine };
}

/** The values that the card's colours were taken to have: as measured on this very card, or as drawn. */
async function cardOf(
  { assessment, result }: AnsweredRound,
  { tables, objects }: ComposePorts,
): Promise<InspectionRecord['card']> {
  const { cardId } = assessment.basis;
  const measured = cardId === null ? null : await tables.cards.valuesTextOf(cardId);
  const text = measured ?? canonicalJson(referenceCard());
  const path = measured === null ? 'card/values.json' : 'card/values.txt';
  const sha256 = await objects.put(new TextEncoder().encode(text));
  return {
    edition: result.photos.after.card.edition ?? referenceCard().edition,
    values: measured === null ? 'design values' : 'measured',
    file: { path, sha256 },
  };
}

async function correctionsOf(
  answered: readonly AnsweredRound[],
  tables: ComposeTables,
): Promise<InspectionRecord['corrections']> {
  const all: InspectionRecord['corrections'] = [];
  for (const [index, { corrections }] of answered.entries()) {
    for (const correction of corrections) {
      const { map, marks, reason, madeAt, madeBy, withdrawnAt, withdrawnBy } = correction;
      const paints = [...new Set(marks.map(({ paint }) => paint))].join(', ');
      const strokes = `${marks.length} ${marks.length === 1 ? 'mark' : 'marks'} as ${paints}`;
      all.push({
        round: index + 1,
        photo: map,
        by: await personOf(madeBy, tables),
        at: madeAt,
        what: reason === '' ? strokes : `${strokes}: ${reason}`,
        areaMm2: null,
        withdrawn: withdrawnAt === null ? null : { by: await personOf(withdrawnBy, tables), at: withdrawnAt },
      });
    }
  }
  return all;
}

async function personOf(ref: { id: string; name: string } | null, { people }: ComposeTables): Promise<RecordPerson> {
  const person = ref === null ? null : await people.find(ref.id);
  if (person === null) return { id: 'nobody', name: 'somebody who is gone', role: 'not known' };
  return { id: person.id, name: person.name, role: person.role };
}
