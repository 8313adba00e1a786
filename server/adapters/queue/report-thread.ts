import { Piscina } from 'piscina';
import type { Verification } from '../../domain/index.ts';
import type { BundleChecker, ReportPrinter } from '../../services/evidence-ports.ts';

/** The thread ends after this long without work and gives its memory back. */
const IDLE_MS = 60_000;

export interface ReportThread extends ReportPrinter, BundleChecker {
  stop(): Promise<void>;
}

/**
 * Prints reports and checks bundles, one at a time, in a thread of its own: both take seconds of computing, and requests
 * must not wait for them. @param workerFile module whose `default` takes `{ print }` or `{ verify }`
 */
export function reportThread(workerFile: URL): ReportThread {
  const pool = new Piscina({
    filename: workerFile.href,
    minThreads: 0,
    maxThreads: 1,
    concurrentTasksPerWorker: 1,
    idleTimeout: IDLE_MS,
  });
  return {
    print: async (request) => (await pool.run({ print: request })) as Uint8Array,
    verify: async (request) => (await pool.run({ verify: request })) as Verification,
    stop: () => pool.destroy(),
  };
}
