import { createHash, createPrivateKey, createPublicKey, generateKeyPairSync, sign } from 'node:crypto';
import type { KeyObject } from 'node:crypto';
import type { SealKey } from '../../evidence/ports.ts';

/** Half of a SHA-256: long enough that no second key can be made to match, short enough to be read aloud. */
const FINGERPRINT_DIGITS = 32;

/** A new private key in PKCS#8 PEM, to be kept where only this program reads it. */
export const newSealKeyPem = (): string =>
  generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' }).toString();

/** The signing key of this installation. @throws Error for a PEM that holds no Ed25519 private key */
export function sealKeyFrom(privateKeyPem: string): SealKey {
  const privateKey = createPrivateKey(privateKeyPem);
  if (privateKey.asymmetricKeyType !== 'ed25519') {
    throw new Error(`Expected an Ed25519 private key but received ${String(privateKey.asymmetricKeyType)}`);
  }
  const publicKey = createPublicKey(privateKey);
  return {
    publicKeyPem: publicKey.export({ type: 'spki', format: 'pem' }).toString(),
    fingerprint: fingerprintOf(publicKey),
    sign: (bytes) => sign(null, bytes, privateKey),
  };
}

export const fingerprintOf = (publicKey: KeyObject): string =>
  createHash('sha256')
    .update(publicKey.export({ type: 'spki', format: 'der' }))
    .digest('hex')
    .slice(0, FINGERPRINT_DIGITS);
