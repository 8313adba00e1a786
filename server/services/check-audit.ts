import type { AuditHead } from '../domain/index.ts';
import { checkAuditChain } from '../evidence/audit-chain.ts';
import type { AuditFlaw } from '../evidence/audit-chain.ts';
import { openAuditHead } from '../evidence/audit-head-seal.ts';
import { openRecord } from '../evidence/open-record.ts';
import type { Sha256, SignatureCheck } from '../evidence/ports.ts';
import type { KeptHeads, LedgerRows } from './backup-ports.ts';
import { jsonOrNull } from './json-or-null.ts';
import type { LogFacts } from './log-facts.ts';

export interface AuditCheckTools {
  readonly sha256: Sha256;
  readonly signatures: SignatureCheck;
  readonly ownFingerprint: string | null;
}

export interface AuditFinding {
  readonly flaws: readonly AuditFlaw[];
  /** Kept heads that cannot be relied on, or that are gone. */
  readonly badHeads: readonly { readonly name: string; readonly message: string }[];
}

/** Follows the chain of the log, and holds it against every head that is kept elsewhere: signed records, the sealed head. */
export function checkAudit(
  log: LogFacts,
  records: ReturnType<LedgerRows['records']>,
  keptHeads: KeptHeads,
  tools: AuditCheckTools,
): AuditFinding {
  const sealed = keptHeads.map(({ name, text }) => ({ name, head: openAuditHead(text, tools) }));
  const knownHeads = [...headsOfRecords(records), ...sealed.flatMap(({ head }) => (head === null ? [] : [head]))];
  const badHeads = sealed
    .filter(({ head }) => head === null)
    .map(({ name }) => ({
      name,
      message: 'The sealed head of the audit log was altered, or sealed with another key.',
    }));
  if (log.head !== null && !keptHeads.some(({ name }) => name === HEAD_NAME)) {
    badHeads.push({
      name: HEAD_NAME,
      message: 'The sealed head of the audit log is missing: rows cut off its end would not show.',
    });
  }
  return { flaws: checkAuditChain(log.rows, { sha256: tools.sha256, knownHeads: distinct(knownHeads) }), badHeads };
}

export const HEAD_NAME = 'audit-head.json';

const distinct = (heads: readonly AuditHead[]): AuditHead[] => [
  ...new Map(heads.map((head) => [`${head.sequence} ${head.hash}`, head])).values(),
];

const headsOfRecords = (records: ReturnType<LedgerRows['records']>): AuditHead[] =>
  records.flatMap(({ text, seal }) => {
    const opened = seal === null ? null : openRecord(jsonOrNull(text));
    const head = opened?.ok === true ? opened.value.decision?.auditHead : null;
    return head === null || head === undefined ? [] : [head];
  });
