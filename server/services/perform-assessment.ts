import type { ZoneAssessment } from '../domain/api/assessments.ts';
import type { Outline } from '../domain/api/photos.ts';
import { success, zoneFileSchema } from '../domain/index.ts';
import type { Assessment, Outcome, SettingsFile, Zone } from '../domain/index.ts';
import { minutesPerSquareMetreOf } from '../domain/kinematics/area-rate.ts';
import { canonicalBytes } from '../evidence/canonical-json.ts';
import type { Sha256 } from '../evidence/ports.ts';
import { absent } from './absent.ts';
import { writeAudit } from './audit-log.ts';
import type { Analyst, AssessmentFindings, AssessmentTask, ClassMapPng, OnStage } from './analysis-ports.ts';
import { decisionFor } from './decision-for.ts';
import { earlierRounds } from './earlier-rounds.ts';
import { learnFromZones } from './learn-from-zones.ts';
import type { Ledger, Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { ObjectStore } from './object-ports.ts';
import type { Clock } from './people-ports.ts';
import { statedPatch } from './place-patches.ts';
import type { StatedPatch } from './place-patches.ts';
import { settleStanding } from './standing-of.ts';
import type { AssessmentResult, StoredClassMap } from './work-ports.ts';

export interface PerformPorts {
  readonly ledger: Pick<
    Ledger,
    'assessments' | 'photos' | 'machines' | 'cards' | 'zones' | 'learning' | 'testPatches' | 'transact'
  >;
  readonly objects: Pick<ObjectStore, 'read' | 'put'>;
  readonly analyst: Pick<Analyst, 'assess'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
}

/**
 * Runs one assessment from stored photos to stored result. It may be run again after any interruption: files are named by
 * their content and the rows are written in one step at the end.
 */
export async function performAssessment(id: string, onStage: OnStage, ports: PerformPorts): Promise<Outcome<null>> {
  const { ledger, clock } = ports;
  const assessment = await ledger.assessments.find(id);
  if (assessment === null || assessment.state === 'done') return success(null);
  await ledger.assessments.start(id, nowOf(clock));
  const task = await taskOf(assessment, ports);
  if (!task.ok) return task;
  const found = await ports.analyst.assess(task.value, onStage);
  if (!found.ok) return found;
  await saveFindings(assessment, found.value, ports);
  return success(null);
}

async function taskOf(assessment: ZoneAssessment, ports: PerformPorts): Promise<Outcome<AssessmentTask>> {
  const { basis, photos } = assessment;
  const after = await photoBytes(photos.after, ports);
  if (!after.ok) return after;
  const before = photos.before === null ? success(null) : await photoBytes(photos.before, ports);
  if (!before.ok) return before;
  const done = await ports.ledger.assessments.doneByRound(assessment.zoneId);
  const earlier = earlierRounds(done, assessment.roundNumber);
  const zone = await ports.ledger.zones.find(assessment.zoneId);
  return success({
    kind: 'assessment',
    after: after.value,
    before: before.value,
    zone: zoneOf(basis.outlines.after),
    zoneBefore: zoneOf(basis.outlines.before),
    cardValues: basis.cardId === null ? null : await ports.ledger.cards.valuesTextOf(basis.cardId),
    settings: await settingsOf(assessment, ports),
    earlierRounds: earlier,
    earlierZones:
      basis.machineId === null ? [] : await learnFromZones(basis.machineId, assessment.zoneId, ports.ledger),
    scrapeTest: basis.scrapeTest,
    heatTint: basis.heatTint ?? null,
    testPatches: await patchesUpTo(assessment, (number) => earlierRounds(done, number + 1).length, ports),
    areaM2: zone?.areaM2 ?? null,
    target: assessment.targetGrade,
    title: `${assessment.jobName}, ${assessment.zoneName}, round ${assessment.roundNumber}`,
  });
}

/** Patches that were tried before this round or after it, each with the number of rounds before it that count. */
async function patchesUpTo(
  { zoneId, roundNumber, basis }: ZoneAssessment,
  roundsUpTo: (roundNumber: number) => number,
  { ledger }: PerformPorts,
): Promise<StatedPatch[]> {
  const patches = await ledger.testPatches.ofZone(zoneId);
  const earlier = roundsUpTo(roundNumber - 1);
  return patches
    .filter(({ afterRound, machineId }) => afterRound <= roundNumber && machineId === basis.machineId)
    .map((patch) => statedPatch(patch, patch.afterRound < roundNumber ? roundsUpTo(patch.afterRound) : earlier + 1));
}

async function photoBytes(id: string, { ledger, objects }: PerformPorts): Promise<Outcome<Uint8Array>> {
  const photo = await ledger.photos.find(id);
  return photo === null ? absent('photo', id) : success(await objects.read(photo.sha256));
}

/** An outline is kept in the words of a zone file. */
const zoneOf = (outline: Outline | null): Zone | null => (outline === null ? null : zoneFileSchema.parse(outline));

async function settingsOf({ basis }: ZoneAssessment, { ledger }: PerformPorts): Promise<SettingsFile | null> {
  if (basis.settings === null) return null;
  const machine = basis.machineId === null ? null : await ledger.machines.find(basis.machineId);
  return {
    settings: basis.settings,
    ...(machine === null ? {} : { machine: machine.machine }),
    ...(basis.surfaceKind === '' ? {} : { surface: basis.surfaceKind }),
    ...(basis.thicknessMm === null ? {} : { thicknessMm: basis.thicknessMm }),
  };
}

async function saveFindings(
  assessment: ZoneAssessment,
  { assessment: result, overlayPng, classMaps, streakLines }: AssessmentFindings,
  { ledger, objects, clock, sha256 }: PerformPorts,
): Promise<void> {
  const { id, zoneId, jobId, basis, targetGrade } = assessment;
  const store = async ({ png, doubtfulPng, ...map }: ClassMapPng): Promise<StoredClassMap> => ({
    ...map,
    sha256: await objects.put(png),
    doubtfulSha256: doubtfulPng === null ? null : await objects.put(doubtfulPng),
  });
  const files = {
    overlay: await objects.put(overlayPng),
    classMaps: {
      before: classMaps.before === null ? null : await store(classMaps.before),
      after: await store(classMaps.after),
    },
  };
  const decision = decisionFor(targetGrade, result.grades);
  const minutesPerSquareMetre = basis.settings === null ? null : minutesPerSquareMetreOf(basis.settings);
  const at = nowOf(clock);
  await ledger.transact(async (tables) => {
    await tables.assessments.finish(id, at, { result, decision, minutesPerSquareMetre, files, streakLines });
    await logFindings(assessment, { result, files }, { tables, clock, sha256 });
    const zone = await tables.zones.find(zoneId);
    if (zone === null) return;
    await settleStanding(zone, tables);
    await tables.zones.touch(zoneId, at);
    await tables.jobs.touch(jobId, at);
  });
}

/** What was measured stands in the log by its hash: a result that is altered later no longer fits. */
async function logFindings(
  { id, photos, requestedBy }: ZoneAssessment,
  { result, files }: { result: Assessment; files: AssessmentResult['files'] },
  { tables, ...ports }: { tables: Tables; clock: Clock; sha256: Sha256 },
): Promise<void> {
  const { after, before } = files.classMaps;
  const details = {
    resultSha256: ports.sha256(canonicalBytes(result)),
    classMapsSha256: { before: before?.sha256 ?? null, after: after?.sha256 ?? null },
    photoIds: photos,
    requestedBy: requestedBy?.name ?? null,
  };
  await writeAudit(tables, { by: null, act: 'created', subject: `assessment:${id}`, details }, ports);
}
