import type { Sha256 } from '../evidence/ports.ts';
import { writeAudit } from './audit-log.ts';
import type { Ledger } from './ledger.ts';
import type { Clock } from './people-ports.ts';

export interface ForgetPorts {
  readonly ledger: Pick<Ledger, 'jobs' | 'shop' | 'transact'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
}

/**
 * Removes jobs that the shop's rule lets go: put away, without work for so many months, and without a signed record. What is
 * signed stays for ever. Answers how many went.
 */
export async function forgetJobs(ports: ForgetPorts): Promise<number> {
  const { keepUnsignedMonths: months } = await ports.ledger.shop.read();
  if (months === null) return 0;
  const since = new Date(ports.clock.now());
  since.setUTCMonth(since.getUTCMonth() - months);
  const forgotten = await ports.ledger.jobs.listForgotten(since.toISOString());
  for (const jobId of forgotten) {
    await ports.ledger.transact(async (tables) => {
      if ((await tables.records.hasSigned({ jobId })) || !(await tables.jobs.remove(jobId))) return;
      const details = { why: 'retention', months };
      await writeAudit(tables, { by: null, act: 'removed', subject: `job:${jobId}`, details }, ports);
    });
  }
  return forgotten.length;
}
