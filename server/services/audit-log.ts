import type { z } from 'zod';
import type { AuditCheckResult, auditQuerySchema } from '../domain/api/audit-log.ts';
import type { AuditEvent, RecordPerson } from '../domain/index.ts';
import type { Page } from '../domain/api/paging.ts';
import { appendAuditEvent } from '../evidence/audit-chain.ts';
import type { Sha256 } from '../evidence/ports.ts';
import type { EvidencePress } from './evidence-ports.ts';
import type { Ledger, Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock } from './people-ports.ts';
import type { ListedAuditEntry } from './record-ports.ts';

export interface AuditPorts {
  readonly ledger: Pick<Ledger, 'audit' | 'transact'>;
  readonly press: Pick<EvidencePress, 'audit'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
}

export interface AuditNote {
  readonly by: Actor | null;
  readonly act: AuditEvent['act'];
  /** "kind:id" */
  readonly subject: string;
  readonly details?: AuditEvent['details'];
}

export interface AuditLog {
  /** Writes a row in a step of its own. */
  note(note: AuditNote): Promise<void>;
  list(query: z.output<typeof auditQuerySchema>): Promise<Page<ListedAuditEntry>>;
  check(): Promise<AuditCheckResult>;
}

/** Who did it, as the log and records keep it: a copy. */
export const recordPersonOf = ({ id, name, role }: Actor): RecordPerson => ({ id, name, role });

/** Chains a row to the log, in the same step as the act it tells of. */
export async function writeAudit(
  { audit }: Pick<Tables, 'audit'>,
  { by, act, subject, details = {} }: AuditNote,
  { sha256, clock }: Pick<AuditPorts, 'sha256' | 'clock'>,
): Promise<void> {
  const event = { at: nowOf(clock), by: by === null ? null : recordPersonOf(by), act, subject, details };
  await audit.add(appendAuditEvent(await audit.head(), event, sha256));
}

export function keepAuditLog(ports: AuditPorts): AuditLog {
  const { ledger, press } = ports;
  return {
    note: (note) => ledger.transact((tables) => writeAudit(tables, note, ports)),
    list: (query) => ledger.audit.list(query),
    check: () => press.audit(),
  };
}
