import type { AuditHead } from '../../domain/index.ts';
import { auditHead } from '../../evidence/audit-chain.ts';
import type { Ledger } from '../../services/ledger.ts';

/**
 * A ledger that hands out each new head of its audit log as soon as the step that wrote it is on the disk, and answers the
 * step when the head was taken. A crash in between leaves the kept head a few rows behind, which is no flaw.
 */
export const watchAuditHead = (ledger: Ledger, keep: (head: AuditHead) => Promise<void>): Ledger => ({
  ...ledger,
  async transact(work) {
    const heads: AuditHead[] = [];
    const answer = await ledger.transact((tables) =>
      work({
        ...tables,
        audit: {
          ...tables.audit,
          async add(entry) {
            await tables.audit.add(entry);
            heads.push(auditHead(entry));
          },
        },
      }),
    );
    const newest = heads.at(-1);
    if (newest !== undefined) await keep(newest);
    return answer;
  },
});
