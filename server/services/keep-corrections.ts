import type { z } from 'zod';
import type {
  CorrectedSurface,
  Corrections,
  correctionTrialSchema,
  newCorrectionSchema,
  PaintMark,
} from '../domain/api/corrections.ts';
import type { PhotoRole } from '../domain/api/photos.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { correctSurface } from '../measure/correction/correct-surface.ts';
import { decideAnew } from '../measure/correction/decide-anew.ts';
import type { MeasuredBefore } from '../measure/correction/decide-anew.ts';
import { paintedPixels } from '../measure/correction/painted-pixels.ts';
import { paintClassMap } from '../domain/paint-class-map.ts';
import type { ClassMap } from '../domain/paint-class-map.ts';
import type { Sha256 } from '../evidence/ports.ts';
import { absent } from './absent.ts';
import { writeAudit } from './audit-log.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { ClassMapReader, ObjectStore } from './object-ports.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import type { PicturePainter } from './ports.ts';
import { settleStanding } from './standing-of.ts';
import type { StoredClassMap } from './work-ports.ts';

export interface CorrectionPorts {
  readonly ledger: Pick<Ledger, 'assessments' | 'corrections' | 'transact'>;
  readonly objects: Pick<ObjectStore, 'read' | 'put'>;
  readonly classMaps: ClassMapReader;
  readonly painter: Pick<PicturePainter, 'classMap'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
}

export interface CorrectionBook {
  list(assessmentId: string): Promise<Outcome<Corrections>>;
  /** What marks would come to on top of the corrections that stand. */
  try(assessmentId: string, trial: z.output<typeof correctionTrialSchema>): Promise<Outcome<CorrectedSurface>>;
  add(assessmentId: string, body: z.output<typeof newCorrectionSchema>, actor: Actor): Promise<Outcome<Corrections>>;
  withdraw(assessmentId: string, correctionId: string, actor: Actor): Promise<Outcome<Corrections>>;
  classMap(assessmentId: string, role: PhotoRole, isCorrected: boolean): Promise<Outcome<Uint8Array>>;
}

export function keepCorrections(ports: CorrectionPorts): CorrectionBook {
  const { ledger, tokens, clock } = ports;
  const list = async (assessmentId: string): Promise<Outcome<Corrections>> => {
    const assessment = await ledger.assessments.find(assessmentId);
    if (assessment === null) return absent('assessment', assessmentId);
    const items = await ledger.corrections.list(assessmentId);
    return success({ items: [...items], corrected: assessment.corrected });
  };
  return {
    list,
    try: (assessmentId, trial) => tryMarks(assessmentId, trial, ports),
    async add(assessmentId, { id = tokens.newId(), map, marks, mayTrain, reason }, actor) {
      const trying = await tryMarks(assessmentId, { map, marks }, ports);
      if (!trying.ok) return trying;
      const correction = { id, assessmentId, map, marks, mayTrain, reason, madeAt: nowOf(clock), madeBy: actor.id };
      await ledger.transact(async (tables) => {
        if (!(await tables.corrections.add(correction))) return;
        const details = { correctionId: id, map, marks: marks.length, mayTrain };
        await writeAudit(
          tables,
          { by: actor, act: 'corrected', subject: `assessment:${assessmentId}`, details },
          ports,
        );
      });
      const settling = await settle(assessmentId, map, ports);
      return settling.ok ? list(assessmentId) : settling;
    },
    async withdraw(assessmentId, correctionId, actor) {
      const before = await ledger.corrections.list(assessmentId);
      const correction = before.find((item) => item.id === correctionId);
      if (correction === undefined) return absent('correction', correctionId);
      const act = { at: nowOf(clock), by: actor.id };
      const isTakenBack = await ledger.transact(async (tables) => {
        if (!(await tables.corrections.withdraw(correctionId, assessmentId, act))) return false;
        const details = { correctionId };
        await writeAudit(tables, { by: actor, act: 'withdrew', subject: `assessment:${assessmentId}`, details }, ports);
        return true;
      });
      if (!isTakenBack) {
        return failure({ code: 'state-conflict', detail: 'the correction was taken back already' });
      }
      const settling = await settle(assessmentId, correction.map, ports);
      return settling.ok ? list(assessmentId) : settling;
    },
    async classMap(assessmentId, role, isCorrected) {
      const opening = await openMap(assessmentId, role, ports);
      if (!opening.ok) return opening;
      const marks = isCorrected ? await standingMarks(assessmentId, role, ports) : [];
      if (marks.length === 0) return success(await ports.objects.read(opening.value.stored.sha256));
      const { codes, width, height } = paintClassMap(opening.value.map, marks);
      return success(await ports.painter.classMap(codes, width, height));
    },
  };
}

async function tryMarks(
  assessmentId: string,
  { map, marks }: z.output<typeof correctionTrialSchema>,
  ports: CorrectionPorts,
): Promise<Outcome<CorrectedSurface>> {
  const opening = await openMap(assessmentId, map, ports);
  if (!opening.ok) return opening;
  const correcting = correct(opening.value, [...(await standingMarks(assessmentId, map, ports)), ...marks]);
  return correcting.ok ? success(correcting.value.surface) : correcting;
}

/** A class map as measured, and what else deciding anew needs. */
interface OpenMap {
  readonly stored: StoredClassMap;
  readonly map: ClassMap;
  readonly measured: MeasuredBefore;
}

async function openMap(
  assessmentId: string,
  role: PhotoRole,
  { ledger, objects, classMaps }: CorrectionPorts,
): Promise<Outcome<OpenMap>> {
  const files = await ledger.assessments.filesOf(assessmentId);
  const assessment = await ledger.assessments.find(assessmentId);
  const stored = files?.classMaps[role] ?? null;
  const surface = assessment?.result?.[role] ?? null;
  if (assessment === null || stored === null || surface === null) {
    return absent(`${role} class map of assessment`, assessmentId);
  }
  const { scrapeTest } = assessment.basis;
  return success({
    stored,
    map: await classMaps.read(await objects.read(stored.sha256)),
    measured: {
      surface,
      inPhoto: stored.surface,
      ...(role === 'after' ? { graded: scrapeTest === null ? {} : { scrapeTest } } : {}),
    },
  });
}

async function standingMarks(assessmentId: string, role: PhotoRole, { ledger }: CorrectionPorts): Promise<PaintMark[]> {
  const corrections = await ledger.corrections.list(assessmentId);
  return corrections.filter((item) => item.map === role && item.withdrawnAt === null).flatMap((item) => item.marks);
}

function correct({ stored, map, measured }: OpenMap, marks: readonly PaintMark[]): Outcome<Corrected> {
  const after = paintClassMap(map, marks);
  const shares = correctSurface({ before: map, after, painted: paintedPixels(map, marks) }, stored.planeFromMap);
  if (shares === null) return failure({ code: 'nothing-measured', unmeasuredShare: 1 });
  const { fractions, residue, unmeasuredFraction, changedFraction } = shares;
  const decided = decideAnew(shares, { map: after, photoPxPerPixel: stored.photoPxPerPixel }, measured);
  return success({ map: after, surface: { fractions, residue, unmeasuredFraction, changedFraction, decided } });
}

interface Corrected {
  readonly map: ClassMap;
  readonly surface: CorrectedSurface;
}

/** Keeps what the standing corrections come to, and the map as it is with them, beside the assessment; the zone stands by it. */
async function settle(assessmentId: string, role: PhotoRole, ports: CorrectionPorts): Promise<Outcome<null>> {
  const assessment = await ports.ledger.assessments.find(assessmentId);
  const files = await ports.ledger.assessments.filesOf(assessmentId);
  if (assessment === null || files === null) return absent('assessment', assessmentId);
  const marks = await standingMarks(assessmentId, role, ports);
  const [surfaces, maps] = [
    { ...assessment.corrected, [role]: null },
    { ...files.correctedMaps, [role]: null },
  ];
  if (marks.length > 0) {
    const opening = await openMap(assessmentId, role, ports);
    if (!opening.ok) return opening;
    const correcting = correct(opening.value, marks);
    if (!correcting.ok) return correcting;
    const { map, surface } = correcting.value;
    surfaces[role] = surface;
    maps[role] = await ports.objects.put(await ports.painter.classMap(map.codes, map.width, map.height));
  }
  await ports.ledger.transact(async (tables) => {
    await tables.assessments.setCorrected(assessmentId, surfaces, maps);
    const zone = await tables.zones.find(assessment.zoneId);
    if (zone !== null) await settleStanding(zone, tables);
  });
  return success(null);
}
