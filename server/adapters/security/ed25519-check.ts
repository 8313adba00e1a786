import { createPublicKey, verify } from 'node:crypto';
import type { KeyObject } from 'node:crypto';
import type { SignatureCheck } from '../../evidence/ports.ts';
import { fingerprintOf } from './ed25519-key.ts';

const SIGNATURE_BYTES = 64;

/** Ed25519 by the platform's library. Source: [RFC8032]. */
export function ed25519Check(): SignatureCheck {
  return {
    fingerprint(publicKeyPem) {
      const key = readKey(publicKeyPem);
      return key === null ? null : fingerprintOf(key);
    },
    holds(publicKeyPem, bytes, signature) {
      const key = readKey(publicKeyPem);
      return key !== null && signature.length === SIGNATURE_BYTES && verify(null, bytes, key, signature);
    },
  };
}

function readKey(pem: string): KeyObject | null {
  try {
    const key = createPublicKey(pem);
    return key.asymmetricKeyType === 'ed25519' ? key : null;
  } catch {
    return null;
  }
}
