import type { z } from 'zod';
import type { ZoneAssessment } from '../domain/api/assessments.ts';
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
import type { StoredClassMap } from './work-ports.ts';

export interface CorrectionPorts {
  readonly ledger: Pick<Ledger, 'assessments' | 'corrections' | 'transact'>;
  readonly objects: Pick<ObjectStore, 'read'>;
  readonly classMaps: ClassMapReader;
  readonly painter: Pick<PicturePainter, 'classMap'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
}

export interface CorrectionBook {
  list(assessmentId: string): Promise<Outcome<Corrections>>;
  /** The shares that marks would give on top of the corrections that stand. */
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
    async add(assessmentId, { id = tokens.newId(), map, marks, reason }, actor) {
      const trying = await tryMarks(assessmentId, { map, marks }, ports);
      if (!trying.ok) return trying;
      const correction = { id, assessmentId, map, marks, reason, madeAt: nowOf(clock), madeBy: actor.id };
      await ledger.transact(async (tables) => {
        if (!(await tables.corrections.add(correction))) return;
        const details = { correctionId: id, map, marks: marks.length };
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
      const { codes, width, height } = paintClassMap(opening.value.measured, marks);
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
  return corrected(opening.value, [...(await standingMarks(assessmentId, map, ports)), ...marks]);
}

interface OpenMap {
  readonly stored: StoredClassMap;
  readonly measured: ClassMap;
}

async function openMap(
  assessmentId: string,
  role: PhotoRole,
  { ledger, objects, classMaps }: CorrectionPorts,
): Promise<Outcome<OpenMap>> {
  const files = await ledger.assessments.filesOf(assessmentId);
  const stored = files?.classMaps[role] ?? null;
  if (stored === null) return absent(`${role} class map of assessment`, assessmentId);
  return success({ stored, measured: await classMaps.read(await objects.read(stored.sha256)) });
}

async function standingMarks(assessmentId: string, role: PhotoRole, { ledger }: CorrectionPorts): Promise<PaintMark[]> {
  const corrections = await ledger.corrections.list(assessmentId);
  return corrections.filter((item) => item.map === role && item.withdrawnAt === null).flatMap((item) => item.marks);
}

function corrected({ stored, measured }: OpenMap, marks: readonly PaintMark[]): Outcome<CorrectedSurface> {
  const after = paintClassMap(measured, marks);
  const surface = correctSurface({ before: measured, after }, stored.planeFromMap);
  return surface === null ? failure({ code: 'nothing-measured', unmeasuredShare: 1 }) : success(surface);
}

/** Keeps the shares that the standing corrections come to beside the assessment. */
async function settle(assessmentId: string, role: PhotoRole, ports: CorrectionPorts): Promise<Outcome<null>> {
  const assessment = await ports.ledger.assessments.find(assessmentId);
  if (assessment === null) return absent('assessment', assessmentId);
  const marks = await standingMarks(assessmentId, role, ports);
  const surfaces: ZoneAssessment['corrected'] = { ...assessment.corrected, [role]: null };
  if (marks.length > 0) {
    const opening = await openMap(assessmentId, role, ports);
    if (!opening.ok) return opening;
    const correcting = corrected(opening.value, marks);
    if (!correcting.ok) return correcting;
    surfaces[role] = correcting.value;
  }
  await ports.ledger.assessments.setCorrected(assessmentId, surfaces);
  return success(null);
}
