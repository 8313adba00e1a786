import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { auditHashAt } from './adapters/database/copy-ledger.ts';
import { sealDataFolder } from './adapters/database/data-folder-seal.ts';
import { listCorrectedPhotos } from './adapters/database/corrected-photos.ts';
import { openLedgerRows } from './adapters/database/ledger-rows.ts';
import { openSqliteLedger } from './adapters/database/sqlite-ledger.ts';
import { watchAuditHead } from './adapters/database/watch-audit-head.ts';
import { sharpPhotoDecoder } from './adapters/image/sharp-photo-decoder.ts';
import { freshFolder, installationFolder } from './adapters/objects/installation-folder.ts';
import { demoFolder } from './adapters/objects/demo-folder.ts';
import { diskObjectStore } from './adapters/objects/disk-object-store.ts';
import { pictureShelf } from './adapters/objects/picture-shelf.ts';
import { sharpClassMapReader } from './adapters/objects/sharp-class-map-reader.ts';
import { pinoLog } from './adapters/observe/pino-log.ts';
import { promMetrics } from './adapters/observe/prom-metrics.ts';
import { tarReader } from './adapters/archive/tar-reader.ts';
import { tarWriter } from './adapters/archive/tar-writer.ts';
import { piscinaAnalyst } from './adapters/queue/piscina-analyst.ts';
import { reportThread } from './adapters/queue/report-thread.ts';
import { cardPrinter } from './adapters/report/card-printer.ts';
import { qrLabels } from './adapters/report/labels/qr-labels.ts';
import { trainingCutter } from './adapters/report/training-cutter.ts';
import { trialPrinter } from './adapters/report/trial-sheet.ts';
import { picturePainter } from './adapters/report/picture-painter.ts';
import { auditHeadFile, readAuditHeads, setHeadAside } from './adapters/security/audit-head-file.ts';
import type { AuditHeadFile } from './adapters/security/audit-head-file.ts';
import { argon2PasswordHasher } from './adapters/security/argon2-password-hasher.ts';
import { randomTokens } from './adapters/security/random-tokens.ts';
import { ed25519Check } from './adapters/security/ed25519-check.ts';
import { sealKeyFrom } from './adapters/security/ed25519-key.ts';
import { openSealKey } from './adapters/security/seal-key-file.ts';
import { sha256 } from './adapters/security/sha256.ts';
import { timeStamps } from './adapters/security/time-stamp/time-stamps.ts';
import { tusUploads } from './adapters/uploads/tus-uploads.ts';
import type { Config } from './config.ts';
import { MOST_UPLOAD_MIB } from './domain/api/photos.ts';
import { MOST_BUNDLE_UPLOAD_MIB } from './domain/api/records.ts';
import type { AuditHead } from './domain/index.ts';
import { openAuditHead } from './evidence/audit-head-seal.ts';
import type { DataTools } from './services/backup-ports.ts';
import { HEAD_NAME } from './services/check-audit.ts';
import type { ExportTools } from './services/export-corrections.ts';
import type { CorrectedPhoto } from './services/training-ports.ts';
import type { ServerAdapters } from './services/open-services.ts';
import { SEAL_KEY_FILE } from './wiring-report.ts';

const BYTES_PER_MIB = 1024 * 1024;
const WORKER = new URL('./analysis-worker.mjs', import.meta.url);
const REPORT_WORKER = new URL('./report-worker.mjs', import.meta.url);
const DEMO = new URL('../fixtures/demo/', import.meta.url);
/** One core is left to requests; each analysis takes several hundred MiB. */
const MOST_PLACES = 4;

/** What keeps, brings back and checks a data folder works with. */
export const wireDataTools = (): DataTools => ({
  sha256,
  signatures: ed25519Check(),
  openFolder: (folder) => installationFolder(folder, () => new Date().toISOString()),
  openRows: (folder) => openLedgerRows(join(folder, 'ledger.db')),
  freshFolder,
  writeBackup: tarWriter,
  readBackup: tarReader,
  fingerprintOf: (pem) => {
    try {
      return sealKeyFrom(Buffer.from(pem).toString('utf8')).fingerprint;
    } catch {
      return null;
    }
  },
});

/** What the export of corrections works with. */
export const wireTrainingTools = (): ExportTools & { listCorrected: (ledger: string) => CorrectedPhoto[] } => ({
  decoder: sharpPhotoDecoder(),
  classMaps: sharpClassMapReader(),
  cutter: trainingCutter(),
  listCorrected: listCorrectedPhotos,
});

/** What the server works with, on one machine. Null when another process has the data folder. */
export async function wireServer(config: Config): Promise<ServerAdapters | null> {
  const folder = config.DATA_DIR;
  const seal = await sealDataFolder(folder);
  if (seal === null) return null;
  const decoder = sharpPhotoDecoder();
  const objects = await diskObjectStore(join(folder, 'objects'));
  const clock = { now: () => Date.now() };
  const sealKey = await openSealKey(join(folder, SEAL_KEY_FILE));
  const ledger = await openSqliteLedger(join(folder, 'ledger.db'));
  const heads = auditHeadFile(folder, sealKey);
  await settleAuditHead(folder, heads, { head: await ledger.audit.head(), ownFingerprint: sealKey.fingerprint });
  return {
    seal,
    decoder,
    objects,
    clock,
    ledger: watchAuditHead(ledger, (head) => heads.keep(head)),
    pictures: await pictureShelf({ folder: join(folder, 'pictures'), objects, decoder }),
    uploads: await tusUploads({
      folder: join(folder, 'uploads'),
      path: '/api/uploads',
      mostBytes: { photo: MOST_UPLOAD_MIB * BYTES_PER_MIB, bundle: MOST_BUNDLE_UPLOAD_MIB * BYTES_PER_MIB },
    }),
    classMaps: sharpClassMapReader(),
    painter: picturePainter(),
    cardPrinter: cardPrinter(),
    trialPrinter: trialPrinter(),
    labels: qrLabels(),
    passwords: argon2PasswordHasher(),
    tokens: randomTokens(clock.now),
    analyst: piscinaAnalyst(WORKER, config.WORKERS ?? Math.min(MOST_PLACES, Math.max(1, availableParallelism() - 1))),
    sealKey,
    sha256,
    timeStamps: timeStamps(),
    press: reportThread(REPORT_WORKER, folder),
    demo: demoFolder(DEMO),
    log: pinoLog(config.LOG_LEVEL),
    metrics: promMetrics(),
  };
}

/**
 * A head that the log does not hold any more is put aside, so that `check` goes on telling of it; a folder of an earlier
 * version, which kept no head, gets its first.
 */
async function settleAuditHead(
  folder: string,
  heads: AuditHeadFile,
  { head, ownFingerprint }: { head: AuditHead; ownFingerprint: string },
): Promise<void> {
  const kept = (await readAuditHeads(folder)).find(({ name }) => name === HEAD_NAME);
  if (kept !== undefined) {
    const known = openAuditHead(kept.text, { signatures: ed25519Check(), ownFingerprint });
    if (known !== null && auditHashAt(join(folder, 'ledger.db'), known.sequence) === known.hash) return;
    await setHeadAside(folder, known?.sequence ?? 0);
  }
  if (head.sequence > 0) await heads.keep(head);
}
