import type { AuditCheckResult } from '../domain/api/audit-log.ts';
import type { Outcome, Seal, Verification } from '../domain/index.ts';
import type { SealedRecord } from '../evidence/seal.ts';
import type { Report } from '../evidence/report/report.ts';

/** One file in an archive. */
export interface ArchiveEntry {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** Something in an archive that is not as it was written: the file or part it belongs to, and what. */
export interface ArchiveFlaw {
  readonly path: string;
  readonly detail: string;
}

export interface ReadArchive {
  readonly entries: readonly ArchiveEntry[];
  readonly flaws: readonly ArchiveFlaw[];
}

/** Packs files into one, with the same bytes each time, and unpacks them again. */
export interface Archive {
  /** @throws RangeError beyond 4 GB or for names outside plain ASCII */
  write(entries: readonly ArchiveEntry[]): Uint8Array;
  /** At least one reading; more where the archive alone cannot tell which is right. Never throws for what a file may hold. */
  read(archive: Uint8Array): readonly ReadArchive[];
}

export interface TimeStamp {
  /** When the authority saw the stamped bytes. */
  readonly at: string;
  /** Name of the authority as its certificate states it. */
  readonly authority: string;
  /** Whether the certificate leads to one of the given roots. */
  readonly isAuthorityTrusted: boolean;
}

/** Time stamps of a public authority, file in and file out: the request is carried to it by whatever means. */
export interface TimeStamps {
  /** Request for a stamp on these bytes. @param nonce number that the reply must repeat, up to 8 bytes */
  request(stamped: Uint8Array, nonce: Uint8Array): Uint8Array;
  /** Checks a reply without any network. @param roots certificates that the caller trusts, PEM; may be empty */
  check(reply: Uint8Array, stamped: Uint8Array, roots: string): Outcome<TimeStamp>;
}

/** Reads the bytes of a file that a record names; null where there is none. */
export interface EvidenceStore {
  read(sha256: string): Promise<Uint8Array | null>;
}

export interface ReportLook {
  readonly paper: 'a4' | 'letter';
  readonly units: 'metric' | 'inch';
  /** Where the record can be looked at; printed as a QR code. Null prints the record's name and hash instead. */
  readonly recordAddress: string | null;
}

export interface PrintRequest {
  readonly report: Report;
  readonly paper: ReportLook['paper'];
  /** The record as sealed, attached to the document. */
  readonly recordText: string;
  /** Bytes of photos and class maps by their paths. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** Prints a report as a PDF: the same request gives the same bytes. */
export interface ReportPrinter {
  print(request: PrintRequest): Promise<Uint8Array>;
}

export interface VerifyRequest {
  readonly bundle: Uint8Array;
  /** Fingerprint of the shop's key, got by another way than the bundle; null when there is none. */
  readonly knownFingerprint: string | null;
  /** Certificates of time-stamping authorities that the reader trusts, PEM; may be empty. */
  readonly timeStampRoots: string;
}

export interface RenderReportRequest {
  /** Canonical text; with a seal when signed. */
  readonly text: string;
  readonly seal: Seal | null;
  readonly look: ReportLook;
}

export interface BuildBundleRequest {
  readonly sealed: SealedRecord;
  readonly look: ReportLook;
  /** RFC 3161 reply over the record's signature, when there is one. */
  readonly timeStamp: Uint8Array | null;
}

export type ReportTask =
  | { readonly kind: 'report'; readonly request: RenderReportRequest }
  | { readonly kind: 'bundle'; readonly request: BuildBundleRequest }
  | { readonly kind: 'verify'; readonly request: VerifyRequest }
  | { readonly kind: 'audit' };

/** Prints, packs and checks away from the thread that answers requests. */
export interface EvidencePress {
  report(request: RenderReportRequest): Promise<Outcome<Uint8Array>>;
  bundle(request: BuildBundleRequest): Promise<Outcome<Uint8Array>>;
  verify(request: VerifyRequest): Promise<Verification>;
  /** Follows the audit log of this installation. */
  audit(): Promise<AuditCheckResult>;
  stop(): Promise<void>;
}
