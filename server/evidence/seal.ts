import type { Seal } from '../domain/index.ts';
import { fromHexadecimal, toHexadecimal } from './hexadecimal.ts';
import type { SealKey, Sha256, SignatureCheck } from './ports.ts';

/** A signed record as it is kept for ever: the very text that was signed, and the seal on it. */
export interface SealedRecord {
  /** Canonical JSON. */
  readonly text: string;
  readonly seal: Seal;
}

/** Ed25519 over the UTF-8 bytes of the text. Source: [RFC8032]. */
export function sealText(text: string, { key, sha256 }: { key: SealKey; sha256: Sha256 }): SealedRecord {
  const bytes = new TextEncoder().encode(text);
  return {
    text,
    seal: {
      algorithm: 'Ed25519',
      recordSha256: sha256(bytes),
      keyFingerprint: key.fingerprint,
      publicKeyPem: key.publicKeyPem,
      signature: toHexadecimal(key.sign(bytes)),
    },
  };
}

/** What is wrong with a seal, in words; null when it holds. */
export function sealFlaw(
  { text, seal }: SealedRecord,
  tools: { readonly sha256: Sha256; readonly signatures: SignatureCheck },
): string | null {
  const bytes = new TextEncoder().encode(text);
  if (tools.signatures.fingerprint(seal.publicKeyPem) !== seal.keyFingerprint) {
    return 'the public key is not the one whose fingerprint stands in the seal';
  }
  if (tools.sha256(bytes) !== seal.recordSha256) {
    return 'the record is not the one that was sealed: its SHA-256 differs';
  }
  const holds = tools.signatures.holds(seal.publicKeyPem, bytes, fromHexadecimal(seal.signature));
  return holds ? null : 'the signature does not belong to this record';
}
