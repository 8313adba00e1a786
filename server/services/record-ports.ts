import type { z } from 'zod';
import type { AuditSubject, auditQuerySchema } from '../domain/api/audit-log.ts';
import type { Page } from '../domain/api/paging.ts';
import type { RecordSummary, recordsQuerySchema } from '../domain/api/records.ts';
import type { AuditEntry, AuditHead, EvidenceFile, Readings, RecordState, Seal } from '../domain/index.ts';
import type { SealedRecord } from '../evidence/seal.ts';
import type { Made } from './work-ports.ts';

/** A record as it is kept: the text is fixed when it is marked ready, and sealed when it is signed. */
export interface StoredRecord extends RecordSummary {
  readonly readings: Readings;
  readonly text: string | null;
  readonly seal: Seal | null;
  readonly supersedesId: string | null;
  readonly supersededById: string | null;
  readonly timeStamp: Uint8Array | null;
}

export interface Signed {
  readonly state: Extract<RecordState, 'accepted' | 'rejected'>;
  readonly sealed: SealedRecord;
  readonly signedAt: string;
  readonly signerName: string;
}

export interface RecordStore {
  add(record: Made & Pick<StoredRecord, 'zoneId' | 'readings' | 'supersedesId'>): Promise<boolean>;
  find(id: string): Promise<StoredRecord | null>;
  /** The record of a zone that is draft or ready; there is one at most. */
  findOpen(zoneId: string): Promise<StoredRecord | null>;
  /** The signed record of a zone that no other has taken the place of; there is one at most. */
  findStanding(zoneId: string): Promise<StoredRecord | null>;
  hasSigned(place: { readonly zoneId: string } | { readonly jobId: string }): Promise<boolean>;
  setReadings(id: string, readings: Readings, at: string): Promise<void>;
  /** Draft to ready. The files are kept as long as the record is. */
  makeReady(id: string, ready: { text: string; files: readonly EvidenceFile[] }, at: string): Promise<void>;
  /** Ready to draft. */
  takeBack(id: string, at: string): Promise<void>;
  sign(id: string, signed: Signed): Promise<void>;
  markSuperseded(id: string): Promise<void>;
  setTimeStamp(id: string, reply: Uint8Array): Promise<void>;
  removeDraft(id: string): Promise<boolean>;
  list(query: z.output<typeof recordsQuerySchema>): Promise<Page<RecordSummary>>;
}

/** Rows of the log; the database lets none be changed or removed. */
/** A row of the log with the number that lists go by, and how what it tells of is called today. */
export type ListedAuditEntry = AuditEntry & { readonly id: string; readonly about: AuditSubject | null };

export interface AuditStore {
  head(): Promise<AuditHead>;
  add(entry: AuditEntry): Promise<void>;
  list(query: z.output<typeof auditQuerySchema>): Promise<Page<ListedAuditEntry>>;
}
