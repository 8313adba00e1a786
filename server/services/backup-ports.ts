import type { AuditEvent, Outcome } from '../domain/index.ts';
import type { Sha256, SignatureCheck } from '../evidence/ports.ts';

/** A consistent copy of the ledger, apart from the one that the server goes on writing. */
export interface LedgerSnapshot {
  read(): Promise<Uint8Array>;
  /** Hashes of all objects that a row of the copy names. */
  readonly namedObjects: readonly string[];
  remove(): Promise<void>;
}

/** Heads of the audit log that are kept beside it: by name of the file, as it is. */
export type KeptHeads = readonly { readonly name: string; readonly text: string }[];

/** The data folder of an installation; a server may be at work on it. */
export interface DataFolder {
  snapshot(): Promise<LedgerSnapshot>;
  /** Null where there is no such file. */
  readObject(sha256: string): Promise<Uint8Array | null>;
  readSealKey(): Promise<Uint8Array | null>;
  readAuditHeads(): Promise<KeptHeads>;
  /** Writes a row of the audit log, beside a server that may be writing too, and keeps its head. */
  note(act: AuditEvent['act'], details: AuditEvent['details']): Promise<void>;
}

/** A file that many files are written into, one after the other; it appears under its name when it is whole. */
export interface BackupWriter {
  add(name: string, bytes: Uint8Array): Promise<void>;
  finish(): Promise<void>;
  /** Leaves nothing behind. */
  giveUp(): Promise<void>;
}

/** Reads the files of a backup in their order. */
export interface BackupReader {
  files(): AsyncIterable<Outcome<{ readonly name: string; readonly bytes: Uint8Array }>>;
}

/** An empty folder that becomes a data folder. */
export interface FreshFolder {
  write(name: string, bytes: Uint8Array): Promise<void>;
  /** Removes what was written. */
  giveUp(): Promise<void>;
}

/** Rows of a ledger as they are kept, read without changing anything. A table that cannot be read throws. */
export interface LedgerRows {
  /** What the database's own checks say. */
  flaws(): readonly string[];
  photos(): readonly {
    readonly id: string;
    readonly fileName: string;
    readonly sha256: string;
    readonly sizeBytes: number;
  }[];
  assessments(): readonly {
    readonly id: string;
    /** Name of each file's purpose and its hash. */
    readonly files: readonly (readonly [what: string, sha256: string])[];
    /** JSON; null for one that is not done. */
    readonly result: string | null;
  }[];
  records(): readonly {
    readonly id: string;
    readonly state: string;
    readonly text: string | null;
    readonly seal: string | null;
    readonly supersedesId: string | null;
    readonly files: readonly { readonly path: string; readonly sha256: string }[];
  }[];
  /** Texts of the rows of the audit log by their numbers. */
  audit(): readonly { readonly sequence: number; readonly text: string }[];
  close(): void;
}

/** What the commands for data folders work with. */
export interface DataTools {
  readonly sha256: Sha256;
  readonly signatures: SignatureCheck;
  openFolder(folder: string): DataFolder;
  openRows(folder: string): LedgerRows;
  /** Null for a folder that holds anything. */
  freshFolder(folder: string): Promise<FreshFolder | null>;
  writeBackup(path: string): Promise<BackupWriter>;
  readBackup(path: string): BackupReader;
  /** Null for what is no private key. */
  fingerprintOf(privateKeyPem: Uint8Array): string | null;
}
