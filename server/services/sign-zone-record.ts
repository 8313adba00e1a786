import type { signatureBodySchema, ZoneRecord } from '../domain/api/records.ts';
import type { z } from 'zod';
import { absent } from './absent.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { openRecord } from '../evidence/open-record.ts';
import type { SealKey } from '../evidence/ports.ts';
import { moveRecord } from '../evidence/record-state.ts';
import { signRecord } from '../evidence/sign-record.ts';
import { recordPersonOf, writeAudit } from './audit-log.ts';
import type { AuditLog } from './audit-log.ts';
import type { RecordPorts, Records } from './keep-records.ts';
import type { Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Sessions } from './open-sessions.ts';
import type { Actor } from './people-ports.ts';
import type { StoredRecord } from './record-ports.ts';
import type { TimeStamps } from './evidence-ports.ts';

export interface SigningPorts extends RecordPorts {
  readonly sessions: Pick<Sessions, 'confirmPassword'>;
  readonly sealKey: SealKey;
  readonly audit: Pick<AuditLog, 'note'>;
  readonly records: Pick<Records, 'read'>;
  readonly timeStamps: Pick<TimeStamps, 'check'>;
}

type SignatureBody = z.output<typeof signatureBodySchema>;

/** Asks for the password again, then seals: the record, its place in the log and what it replaces, in one step. */
export async function signZoneRecord(
  id: string,
  body: SignatureBody,
  actor: Actor,
  ports: SigningPorts,
): Promise<Outcome<ZoneRecord>> {
  const stored = await ports.ledger.records.find(id);
  if (stored === null) return absent('record', id);
  const moving = moveRecord(stored.state, body.verdict === 'accepted' ? 'accept' : 'reject');
  if (!moving.ok) return moving;
  const confirming = await ports.sessions.confirmPassword(actor.id, body.password);
  if (!confirming.ok) {
    const details = { act: body.verdict, why: confirming.fault.code };
    await ports.audit.note({ by: actor, act: 'was refused', subject: `record:${id}`, details });
    return confirming;
  }
  const signing = await ports.ledger.transact((tables) => seal(id, body, actor, { tables, ports }));
  return signing.ok ? ports.records.read(id) : signing;
}

interface Step {
  readonly tables: Tables;
  readonly ports: SigningPorts;
}

async function seal(id: string, body: SignatureBody, actor: Actor, step: Step): Promise<Outcome<null>> {
  const { tables, ports } = step;
  const stored = await tables.records.find(id);
  if (stored === null) return absent('record', id);
  const moving = moveRecord(stored.state, body.verdict === 'accepted' ? 'accept' : 'reject');
  if (!moving.ok) return moving;
  const opened = openRecord(JSON.parse(stored.text ?? 'null'));
  if (!opened.ok) return opened;
  const signedAt = nowOf(ports.clock);
  const signing = signRecord(
    opened.value,
    {
      signer: recordPersonOf(actor),
      isTwoPersonRuleOn: (await tables.shop.read()).isTwoPersonRuleOn,
      verdict: body.verdict,
      reason: body.reason === '' ? null : body.reason,
      signedAt,
      auditHead: await tables.audit.head(),
    },
    { key: ports.sealKey, sha256: ports.sha256 },
  );
  if (!signing.ok) return signing;
  const sealed = signing.value;
  await tables.records.sign(id, { state: body.verdict, sealed, signedAt, signerName: actor.name });
  const details = { recordSha256: sealed.seal.recordSha256, keyFingerprint: sealed.seal.keyFingerprint };
  await writeAudit(tables, { by: actor, act: body.verdict, subject: `record:${id}`, details }, ports);
  return supersede(stored, actor, step);
}

async function supersede(
  { id, supersedesId }: StoredRecord,
  actor: Actor,
  { tables, ports }: Step,
): Promise<Outcome<null>> {
  if (supersedesId === null) return success(null);
  const old = await tables.records.find(supersedesId);
  if (old === null) return absent('record', supersedesId);
  const moving = moveRecord(old.state, 'supersede');
  if (!moving.ok) return moving;
  await tables.records.markSuperseded(supersedesId);
  const details = { by: `record:${id}` };
  await writeAudit(tables, { by: actor, act: 'superseded', subject: `record:${supersedesId}`, details }, ports);
  return success(null);
}

/** Keeps the reply of a time-stamping authority beside the record, once, and only when it fits the signature. */
export async function addTimeStamp(
  id: string,
  reply: Uint8Array,
  actor: Actor,
  ports: SigningPorts,
): Promise<Outcome<ZoneRecord>> {
  const adding = await ports.ledger.transact(async (tables) => {
    const stored = await tables.records.find(id);
    if (stored === null) return absent('record', id);
    const { seal: kept, timeStamp } = stored;
    if (kept === null) return failure({ code: 'state-conflict', detail: 'only a signed record is stamped' });
    if (timeStamp !== null) return failure({ code: 'state-conflict', detail: 'the record has its time stamp already' });
    const noRoots = '';
    const stamp = ports.timeStamps.check(reply, Buffer.from(kept.signature, 'hex'), noRoots);
    if (!stamp.ok) return stamp;
    await tables.records.setTimeStamp(id, reply);
    const details = { stampedAt: stamp.value.at, authority: stamp.value.authority };
    await writeAudit(tables, { by: actor, act: 'changed', subject: `record:${id}`, details }, ports);
    return success(null);
  });
  return adding.ok ? ports.records.read(id) : adding;
}
