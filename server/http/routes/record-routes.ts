import { Readable } from 'node:stream';
import type { ExportFormat } from '../../domain/api/exports.ts';
import type { RECORD_ENDPOINTS } from '../../domain/api/record-endpoints.ts';
import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { SealKey } from '../../evidence/ports.ts';
import type { AuditLog } from '../../services/audit-log.ts';
import { registerTable } from '../../services/export-register.ts';
import { assessmentsTable, readingsTable } from '../../services/export-tables.ts';
import type { ExportTable } from '../../services/export-tables.ts';
import type { EvidenceFiles, NamedFile } from '../../services/hand-out-record.ts';
import type { Records } from '../../services/keep-records.ts';
import type { LabelPrinter } from '../../services/label-ports.ts';
import type { Ledger } from '../../services/ledger.ts';
import type { KnownSession } from '../../services/open-sessions.ts';
import { addTimeStamp, signZoneRecord } from '../../services/sign-zone-record.ts';
import type { SigningPorts } from '../../services/sign-zone-record.ts';
import { tableLines } from '../../services/table-lines.ts';
import type { FileAnswer, HandledEndpointName, HandlersOf } from '../call.ts';
import { actorOf } from './actor-of.ts';

export interface RecordRoutesParts {
  readonly records: Records;
  readonly evidence: EvidenceFiles;
  readonly audit: AuditLog;
  readonly signing: SigningPorts;
  readonly ledger: Ledger;
  readonly sealKey: SealKey;
  readonly labels: Pick<LabelPrinter, 'qrSvg'>;
}

type Names = Extract<HandledEndpointName, keyof typeof RECORD_ENDPOINTS>;
type DraftNames = Extract<Names, `${string}Record${'' | 's' | 'Ready'}` | 'enterReadings' | 'addTimeStamp'>;

export const recordRoutes = (parts: RecordRoutesParts): HandlersOf<Names> => ({
  ...draftRoutes(parts),
  ...evidenceRoutes(parts),
  ...ledgerRoutes(parts),
});

function draftRoutes({ records, signing }: RecordRoutesParts): HandlersOf<DraftNames> {
  return {
    listRecords: async ({ query }) => success(await records.list(query)),
    startRecord: ({ params, body, caller }) => records.start(params.zoneId, body.id, actorOf(caller)),
    readRecord: ({ params }) => records.read(params.recordId),
    removeDraftRecord: ({ params, caller }) => records.removeDraft(params.recordId, actorOf(caller)),
    enterReadings: ({ params, body, caller }) => records.enter(params.recordId, body, actorOf(caller)),
    markRecordReady: ({ params, caller }) => records.markReady(params.recordId, actorOf(caller)),
    withdrawRecord: ({ params, caller }) => records.withdraw(params.recordId, actorOf(caller)),
    supersedeRecord: ({ params, body, caller }) => records.supersede(params.recordId, body.id, actorOf(caller)),
    signRecord: ({ params, body, caller }) => signZoneRecord(params.recordId, body, actorOf(caller), signing),
    addTimeStamp: ({ params, body, caller }) =>
      addTimeStamp(params.recordId, Buffer.from(body.replyBase64, 'base64'), actorOf(caller), signing),
  };
}

type EvidenceNames =
  'readRecordPicture' | 'readRecordReport' | 'readRecordBundle' | 'checkBundle' | 'readTimeStampRequest';

function evidenceRoutes({ evidence }: RecordRoutesParts): HandlersOf<EvidenceNames> {
  return {
    async readRecordPicture({ params }) {
      const picture = await evidence.picture(params.recordId, params.round, params.role);
      return picture.ok ? success({ mediaType: 'image/jpeg', body: picture.value, isImmutable: false }) : picture;
    },
    readRecordReport: async ({ params, query, caller, origin }) =>
      download('application/pdf', await evidence.report(params.recordId, query, { actor: actorOf(caller), origin })),
    readRecordBundle: async ({ params, query, caller, origin }) =>
      download('application/zip', await evidence.bundle(params.recordId, query, { actor: actorOf(caller), origin })),
    readTimeStampRequest: async ({ params, caller }) =>
      download('application/timestamp-query', await evidence.timeStampRequest(params.recordId, actorOf(caller))),
    checkBundle: ({ body, caller }) => evidence.checkUpload(body.uploadId, body.knownFingerprint, actorOf(caller)),
  };
}

type LedgerNames = Exclude<Names, DraftNames | EvidenceNames>;

function ledgerRoutes({ audit, ledger, sealKey, labels }: RecordRoutesParts): HandlersOf<LedgerNames> {
  const hand = async (what: string, table: ExportTable, { format, caller }: Asked): Promise<Outcome<FileAnswer>> => {
    const details = { what, format };
    await audit.note({ by: actorOf(caller), act: 'exported', subject: `ledger:${what}`, details });
    return success({
      mediaType: format === 'csv' ? 'text/csv' : 'application/jsonl',
      body: Readable.from(tableLines(table.rows(), table.names, format)),
      fileName: `bareplate-${what}.${format}`,
      isImmutable: false,
    });
  };
  return {
    readSealKey: async () =>
      success({
        fingerprint: sealKey.fingerprint,
        publicKeyPem: sealKey.publicKeyPem,
        qrSvg: await labels.qrSvg(`Bareplate key ${sealKey.fingerprint}`),
      }),
    readSealKeyFile: () =>
      Promise.resolve(
        success({
          mediaType: 'application/x-pem-file',
          body: Buffer.from(sealKey.publicKeyPem),
          fileName: 'public-key.pem',
          isImmutable: false,
        }),
      ),
    listAuditLog: async ({ query }) => success(await audit.list(query)),
    checkAuditLog: async () => success(await audit.check()),
    exportAssessments: ({ query, caller }) => hand('assessments', assessmentsTable(ledger), { ...query, caller }),
    exportReadings: ({ query, caller }) => hand('readings', readingsTable(ledger), { ...query, caller }),
    exportRegister: ({ query, caller }) => hand('register', registerTable(ledger), { ...query, caller }),
  };
}

interface Asked {
  readonly format: ExportFormat;
  readonly caller: KnownSession;
}

const download = (mediaType: string, making: Outcome<NamedFile>): Outcome<FileAnswer> =>
  making.ok
    ? success({ mediaType, body: making.value.bytes, fileName: making.value.fileName, isImmutable: false })
    : making;
