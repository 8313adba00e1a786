import type { RecordPerson, Seal } from '../domain/index.ts';

/** SHA-256 of bytes, lower-case hexadecimal. */
export type Sha256 = (bytes: Uint8Array) => string;

/** The installation's signing key: signs, and shows its public half. The private half never leaves the adapter. */
export interface SealKey {
  readonly publicKeyPem: string;
  readonly fingerprint: Seal['keyFingerprint'];
  /** Ed25519 over the bytes as they are, 64 bytes. */
  sign(bytes: Uint8Array): Uint8Array;
}

/** Checks signatures with a public key given as PEM. */
export interface SignatureCheck {
  /** Null when the PEM holds no Ed25519 public key. */
  fingerprint(publicKeyPem: string): string | null;
  /** False also for a key or a signature that cannot be read. */
  holds(publicKeyPem: string, bytes: Uint8Array, signature: Uint8Array): boolean;
}

/** Who signs a record, and whether the shop wants somebody other than who prepared it. */
export interface Signing {
  readonly signer: RecordPerson;
  readonly isTwoPersonRuleOn: boolean;
}
