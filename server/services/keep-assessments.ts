import type { z } from 'zod';
import type {
  AssessmentBasis,
  AssessmentSummary,
  assessmentsQuerySchema,
  newAssessmentSchema,
  Progress,
  ZoneAssessment,
} from '../domain/api/assessments.ts';
import type { Page } from '../domain/api/paging.ts';
import type { PhotoRole } from '../domain/api/photos.ts';
import type { ZoneRound } from '../domain/api/rounds.ts';
import type { JobZone } from '../domain/api/zones.ts';
import { failure, fraction, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { gradeTitle, matchTarget } from '../measure/grade/match-target.ts';
import { absent } from './absent.ts';
import { checkDials } from './check-dials.ts';
import type { Ledger, Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { ObjectStore } from './object-ports.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import type { ProgressBoard } from './progress-board.ts';

export interface AssessmentPorts {
  readonly ledger: Pick<Ledger, 'assessments' | 'rounds' | 'zones' | 'shop' | 'queue' | 'transact'>;
  readonly objects: Pick<ObjectStore, 'read'>;
  readonly board: ProgressBoard;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
  readonly programVersion: string;
  /** Tells the worker that something waits. */
  readonly wake: () => void;
}

export interface Assessments {
  list(query: z.output<typeof assessmentsQuerySchema>): Promise<Page<AssessmentSummary>>;
  read(id: string): Promise<Outcome<ZoneAssessment>>;
  progress(id: string): Promise<Outcome<Progress>>;
  start(roundId: string, body: z.output<typeof newAssessmentSchema>, actor: Actor): Promise<Outcome<ZoneAssessment>>;
  overlay(id: string): Promise<Outcome<Uint8Array>>;
  doubtfulMap(id: string, role: PhotoRole): Promise<Outcome<Uint8Array>>;
}

export function keepAssessments(ports: AssessmentPorts): Assessments {
  const { ledger, objects } = ports;
  const read = async (id: string): Promise<Outcome<ZoneAssessment>> => {
    const stored = await ledger.assessments.find(id);
    if (stored === null) return absent('assessment', id);
    return success({ ...stored, progress: await progressNow(stored, ports) });
  };
  return {
    read,
    list: (query) => ledger.assessments.list(query),
    async progress(id) {
      const reading = await read(id);
      return reading.ok ? success(reading.value.progress) : reading;
    },
    async start(roundId, body, actor) {
      const id = body.id ?? ports.tokens.newId();
      const starting = await ledger.transact((tables) => enqueue({ ...body, id, roundId }, actor, { tables, ports }));
      if (!starting.ok) return starting;
      ports.wake();
      return read(id);
    },
    async overlay(id) {
      const files = await ledger.assessments.filesOf(id);
      return files === null ? absent('overlay of assessment', id) : success(await objects.read(files.overlay));
    },
    async doubtfulMap(id, role) {
      const files = await ledger.assessments.filesOf(id);
      const sha256 = files?.classMaps[role]?.doubtfulSha256 ?? null;
      return sha256 === null ? absent('doubtful map of assessment', id) : success(await objects.read(sha256));
    },
  };
}

/** What the ledger says, with what the running process knows besides. */
export async function progressNow(
  { id, progress }: { id: string; progress: Progress },
  { board, ledger }: { board: ProgressBoard; ledger: Pick<Ledger, 'queue'> },
): Promise<Progress> {
  if (progress.state === 'queued') {
    return { ...progress, waitingBefore: (await ledger.queue.waitingBefore(id)) ?? 0 };
  }
  const note = board.look(id);
  if (progress.state !== 'running' || note === null) return progress;
  return { ...progress, stage: note.stage, fractionDone: fraction(note.fractionDone) };
}

async function enqueue(
  body: z.output<typeof newAssessmentSchema> & { id: string; roundId: string },
  actor: Actor,
  { tables, ports }: { tables: Tables; ports: AssessmentPorts },
): Promise<Outcome<null>> {
  const round = await tables.rounds.find(body.roundId);
  if (round === null) return absent('round', body.roundId);
  const zone = await tables.zones.find(round.zoneId);
  if (zone === null) return absent('zone', round.zoneId);
  if (round.after === null) {
    return failure({ code: 'state-conflict', detail: `round ${round.number} has no after photo yet` });
  }
  const fitting = await checkDials(round, tables);
  if (!fitting.ok) return fitting;
  const shop = await tables.shop.read();
  const target = targetTitle(
    body.targetGrade === undefined ? (zone.targetGrade ?? shop.usualTargetGrade) : body.targetGrade,
  );
  if (!target.ok) return target;
  const queuedAt = nowOf(ports.clock);
  const isNew = await tables.assessments.add({
    id: body.id,
    roundId: round.id,
    queuedAt,
    requestedBy: actor.id,
    targetGrade: target.value,
    beforePhotoId: round.before?.photo.id ?? null,
    afterPhotoId: round.after.photo.id,
    basis: basisOf(round, zone, shop.usualCardId),
    programVersion: ports.programVersion,
  });
  if (isNew) await tables.queue.enqueue('assessment', body.id, queuedAt);
  return success(null);
}

const basisOf = (round: ZoneRound, zone: JobZone, usualCardId: string | null): AssessmentBasis => ({
  settings: round.settings,
  machineId: round.machineId,
  cardId: round.cardId ?? usualCardId,
  surfaceKind: zone.surfaceKind,
  thicknessMm: zone.thicknessMm,
  scrapeTest: round.scrapeTest,
  heatTint: round.heatTint,
  outlines: { before: round.before?.outline ?? null, after: round.after?.outline ?? null },
});

function targetTitle(text: string | null): Outcome<string | null> {
  if (text === null) return success(null);
  const matching = matchTarget(text);
  return matching.ok ? success(gradeTitle(matching.value)) : matching;
}
