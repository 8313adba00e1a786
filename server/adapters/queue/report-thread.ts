import { Piscina } from 'piscina';
import type { AuditCheckResult } from '../../domain/api/audit-log.ts';
import type { Outcome, Verification } from '../../domain/index.ts';
import type { EvidencePress, ReportTask } from '../../services/evidence-ports.ts';

/** The thread ends after this long without work and gives its memory back. */
const IDLE_MS = 60_000;

/**
 * Prints reports, packs and checks bundles, follows the audit log, one at a time, in a thread of its own: all take seconds of computing, and
 * requests must not wait for them. The thread reads photos and key from the data folder itself.
 * @param workerFile module whose `default` takes `{ folder, task }`
 */
export function reportThread(workerFile: URL, folder: string): EvidencePress {
  const pool = new Piscina({
    filename: workerFile.href,
    minThreads: 0,
    maxThreads: 1,
    concurrentTasksPerWorker: 1,
    idleTimeout: IDLE_MS,
  });
  const run = async <T>(task: ReportTask): Promise<T> => (await pool.run({ folder, task })) as T;
  return {
    report: (request) => run<Outcome<Uint8Array>>({ kind: 'report', request }),
    bundle: (request) => run<Outcome<Uint8Array>>({ kind: 'bundle', request }),
    verify: (request) => run<Verification>({ kind: 'verify', request }),
    audit: () => run<AuditCheckResult>({ kind: 'audit' }),
    stop: () => pool.destroy(),
  };
}
