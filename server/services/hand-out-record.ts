import type { PhotoRole } from '../domain/api/photos.ts';
import { success } from '../domain/index.ts';
import type { InspectionRecord, Outcome, Verification } from '../domain/index.ts';
import { failure } from '../domain/index.ts';
import { canonicalJson } from '../evidence/canonical-json.ts';
import { openRecord } from '../evidence/open-record.ts';
import type { SealKey } from '../evidence/ports.ts';
import { absent } from './absent.ts';
import type { AuditLog } from './audit-log.ts';
import { composeRecord } from './compose-record.ts';
import type { EvidencePress, ReportLook, TimeStamps } from './evidence-ports.ts';
import type { Ledger } from './ledger.ts';
import type { ObjectStore, PhotoPictures, UploadDesk } from './object-ports.ts';
import type { Actor, TokenMaker } from './people-ports.ts';
import type { StoredRecord } from './record-ports.ts';

export interface HandOutPorts {
  readonly ledger: Ledger;
  readonly objects: Pick<ObjectStore, 'put'>;
  readonly sealKey: Pick<SealKey, 'fingerprint'>;
  readonly pictures: Pick<PhotoPictures, 'picture'>;
  readonly uploads: Pick<UploadDesk, 'look' | 'remove'>;
  readonly press: Omit<EvidencePress, 'stop'>;
  readonly timeStamps: Pick<TimeStamps, 'request'>;
  readonly tokens: Pick<TokenMaker, 'newToken'>;
  readonly audit: Pick<AuditLog, 'note'>;
}

/** Paper and units where the caller names them; else as the shop has them. */
type AskedLook = { readonly [K in 'paper' | 'units']?: ReportLook[K] | undefined };

export interface EvidenceFiles {
  report(id: string, asked: AskedLook, hand: Hand): Promise<Outcome<NamedFile>>;
  bundle(id: string, asked: AskedLook, hand: Hand): Promise<Outcome<NamedFile>>;
  picture(id: string, round: number, role: PhotoRole): Promise<Outcome<Uint8Array>>;
  timeStampRequest(id: string, actor: Actor): Promise<Outcome<NamedFile>>;
  checkUpload(uploadId: string, knownFingerprint: string | undefined, actor: Actor): Promise<Outcome<Verification>>;
}

/** Who takes it, and the address that the QR code of the report begins with. */
export interface Hand {
  readonly actor: Actor;
  readonly origin: string;
}

export interface NamedFile {
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

/** Reports, bundles and pictures of records. Whatever leaves the house is told to the audit log first. */
export function handOutEvidence(ports: HandOutPorts): EvidenceFiles {
  const { ledger, press } = ports;
  const withRecord = async <T>(
    id: string,
    work: (stored: StoredRecord) => Promise<Outcome<T>>,
  ): Promise<Outcome<T>> => {
    const stored = await ledger.records.find(id);
    return stored === null ? absent('record', id) : work(stored);
  };
  return {
    report: (id, asked, hand) =>
      withRecord(id, async (stored) => {
        const text = await textOf(stored, ports);
        if (!text.ok) return text;
        const look = await lookOf(id, asked, hand, ledger);
        const rendering = await press.report({ text: text.value, seal: stored.seal, look });
        if (!rendering.ok) return rendering;
        await ports.audit.note(exported(stored, 'report', hand.actor));
        return success({ fileName: `${fileStem(stored)}.pdf`, bytes: rendering.value });
      }),
    bundle: (id, asked, hand) =>
      withRecord(id, async (stored) => {
        const { text, seal, timeStamp } = stored;
        if (text === null || seal === null) {
          return failure({ code: 'state-conflict', detail: 'only a signed record is handed out as a bundle' });
        }
        const look = await lookOf(id, asked, hand, ledger);
        const building = await press.bundle({ sealed: { text, seal }, look, timeStamp });
        if (!building.ok) return building;
        await ports.audit.note(exported(stored, 'bundle', hand.actor));
        return success({ fileName: `${fileStem(stored)}.zip`, bytes: building.value });
      }),
    picture: (id, round, role) =>
      withRecord(id, async (stored) => {
        const text = await textOf(stored, ports);
        if (!text.ok) return text;
        const opened = openRecord(JSON.parse(text.value));
        if (!opened.ok) return opened;
        const photo = opened.value.rounds.find(({ number }) => number === round)?.[role] ?? null;
        if (photo === null) return absent('photo of the record', `round ${round}, ${role}`);
        return success(await ports.pictures.picture(photo.file.sha256, 'display'));
      }),
    timeStampRequest: (id, actor) =>
      withRecord(id, async (stored) => {
        const { seal } = stored;
        if (seal === null) return failure({ code: 'state-conflict', detail: 'only a signed record is stamped' });
        const nonce = Buffer.from(ports.tokens.newToken(), 'base64url').subarray(0, NONCE_BYTES);
        await ports.audit.note(exported(stored, 'time-stamp request', actor));
        const bytes = ports.timeStamps.request(Buffer.from(seal.signature, 'hex'), nonce);
        return success({ fileName: `${fileStem(stored)}.tsq`, bytes });
      }),
    checkUpload: (uploadId, knownFingerprint, actor) => checkUpload({ uploadId, knownFingerprint }, actor, ports),
  };
}

const NONCE_BYTES = 8;

const exported = (
  { id, state }: StoredRecord,
  what: string,
  by: Actor,
): { by: Actor; act: 'exported'; subject: string; details: { what: string; state: string } } => ({
  by,
  act: 'exported',
  subject: `record:${id}`,
  details: { what, state },
});

/** The text as fixed, or what a draft would be fixed as now. */
async function textOf(stored: StoredRecord, { ledger, objects }: HandOutPorts): Promise<Outcome<string>> {
  if (stored.text !== null) return success(stored.text);
  const composing: Outcome<InspectionRecord> = await composeRecord(stored, { tables: ledger, objects });
  return composing.ok ? success(canonicalJson(composing.value)) : composing;
}

async function lookOf(id: string, asked: AskedLook, { origin }: Hand, { shop }: Ledger): Promise<ReportLook> {
  const usual = await shop.read();
  return {
    paper: asked.paper ?? usual.paper,
    units: asked.units ?? (usual.units === 'inches' ? 'inch' : 'metric'),
    recordAddress: `${origin}/records/${id}`,
  };
}

/** Plain letters, so that every file system takes the name. */
function fileStem({ jobName, zoneName, createdAt }: StoredRecord): string {
  const plain = `${jobName} ${zoneName}`
    .normalize('NFKD')
    .replace(/[^\w\s-]/g, '')
    .trim()
    .replace(/[\s_-]+/g, '-')
    .toLowerCase();
  return `${plain.slice(0, 80)}-${createdAt.slice(0, 10)}`;
}

async function checkUpload(
  { uploadId, knownFingerprint }: { uploadId: string; knownFingerprint: string | undefined },
  actor: Actor,
  { uploads, press, sealKey }: HandOutPorts,
): Promise<Outcome<Verification>> {
  const look = await uploads.look(uploadId, actor.id);
  if (look.state === 'unknown') return absent('upload', uploadId);
  if (look.state === 'arriving') {
    return failure({ code: 'upload-unfinished', receivedBytes: look.receivedBytes, totalBytes: look.totalBytes });
  }
  const { bytes } = await look.read();
  const finding = await press.verify({
    bundle: bytes,
    knownFingerprint:
      knownFingerprint === undefined || knownFingerprint === '' ? sealKey.fingerprint : knownFingerprint,
    timeStampRoots: '',
  });
  await uploads.remove(uploadId);
  return success(finding);
}
