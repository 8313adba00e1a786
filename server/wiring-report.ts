import { join } from 'node:path';
import { openLedgerRows } from './adapters/database/ledger-rows.ts';
import { zipArchive } from './adapters/archive/zip-archive.ts';
import { sharpPhotoDecoder } from './adapters/image/sharp-photo-decoder.ts';
import { diskObjectStore } from './adapters/objects/disk-object-store.ts';
import { reportPrinter } from './adapters/report/inspection/report-printer.ts';
import { readAuditHeads } from './adapters/security/audit-head-file.ts';
import { ed25519Check } from './adapters/security/ed25519-check.ts';
import { openSealKey } from './adapters/security/seal-key-file.ts';
import { sha256 } from './adapters/security/sha256.ts';
import { timeStamps } from './adapters/security/time-stamp/time-stamps.ts';
import type { AuditCheckResult } from './domain/api/audit-log.ts';
import { AUDIT_START } from './evidence/audit-chain.ts';
import type { BuildBundleTools } from './services/build-bundle.ts';
import { checkAudit } from './services/check-audit.ts';
import { evidenceStore } from './services/evidence-store.ts';
import { logFacts } from './services/log-facts.ts';
import type { VerifyTools } from './services/verify-bundle.ts';

/** The key that seals this installation's records; lost, no further record can carry it. */
export const SEAL_KEY_FILE = 'seal-key.pem';

/** What the report thread works with: nothing that measures, so that it starts at once. @param folder data folder */
export async function wireReportTools(folder: string): Promise<BuildBundleTools & VerifyTools> {
  return {
    archive: zipArchive(),
    sha256,
    signatures: ed25519Check(),
    timeStamps: timeStamps(),
    printer: reportPrinter(sharpPhotoDecoder()),
    store: evidenceStore(await diskObjectStore(join(folder, 'objects'))),
    key: await openSealKey(join(folder, SEAL_KEY_FILE)),
  };
}

/** Reads the log from the ledger's file, beside the server that goes on writing it. @param folder data folder */
export async function checkAuditLog(folder: string): Promise<AuditCheckResult> {
  const { fingerprint } = await openSealKey(join(folder, SEAL_KEY_FILE));
  const heads = await readAuditHeads(folder);
  const rows = openLedgerRows(join(folder, 'ledger.db'));
  try {
    const log = logFacts(rows.audit());
    const tools = { sha256, signatures: ed25519Check(), ownFingerprint: fingerprint };
    const { flaws, badHeads } = checkAudit(log, rows.records(), heads, tools);
    const head = log.head ?? AUDIT_START;
    const unsure = badHeads.map(({ message }) => ({
      sequence: head.sequence,
      detail: `may not be the last one. ${message}`,
    }));
    const all = [...flaws, ...unsure];
    return { rows: log.rows.length, holds: all.length === 0, head, flaws: all };
  } finally {
    rows.close();
  }
}
