import { describe, expect, it } from 'vitest';
import { ed25519Check } from '../../../../server/adapters/security/ed25519-check.ts';
import { newSealKeyPem, sealKeyFrom } from '../../../../server/adapters/security/ed25519-key.ts';
import { sha256 } from '../../../../server/adapters/security/sha256.ts';
import { ed25519Pem } from '../../../support/evidence-tools.ts';

/** RFC 8032, 7.1, TEST 1 to 3: secret key, public key, message, signature. From memory; a wrong digit would not verify. */
const VECTORS = [
  [
    '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    '',
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  ],
  [
    '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    '72',
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  ],
  [
    'c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7',
    'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
    'af82',
    '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
  ],
] as const;

const bytes = (hex: string): Uint8Array => Buffer.from(hex, 'hex');
const check = ed25519Check();

describe('Ed25519 signatures', () => {
  it.each(VECTORS)('are those of RFC 8032, 7.1, for the secret key %s', (secret, publicKey, message, signature) => {
    const key = sealKeyFrom(ed25519Pem(secret));
    const der = Buffer.from(key.publicKeyPem.replace(/-----[A-Z ]+-----/g, ''), 'base64');
    expect(der.subarray(-32).toString('hex')).toBe(publicKey);
    expect(Buffer.from(key.sign(bytes(message))).toString('hex')).toBe(signature);
    expect(check.holds(key.publicKeyPem, bytes(message), bytes(signature))).toBe(true);
    expect(key.fingerprint).toBe(sha256(der).slice(0, 32));
    expect(check.fingerprint(key.publicKeyPem)).toBe(key.fingerprint);
  });

  it('fail with another message, a flipped bit, a cut signature, another key, and what is no key', () => {
    const key = sealKeyFrom(ed25519Pem(VECTORS[2][0]));
    const message = bytes(VECTORS[2][2]);
    const signature = key.sign(message);
    const flipped = Uint8Array.from(signature, (byte, at) => (at === 40 ? byte ^ 1 : byte));
    expect(check.holds(key.publicKeyPem, bytes('af83'), signature)).toBe(false);
    expect(check.holds(key.publicKeyPem, message, flipped)).toBe(false);
    expect(check.holds(key.publicKeyPem, message, signature.subarray(0, 63))).toBe(false);
    expect(check.holds(sealKeyFrom(newSealKeyPem()).publicKeyPem, message, signature)).toBe(false);
    expect(check.holds('nonsense', message, signature)).toBe(false);
    expect(check.fingerprint('nonsense')).toBeNull();
  });
});

describe('SHA-256', () => {
  /** FIPS 180-4 examples, from memory. */
  it.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  ])('of "%s" is %s', (text, hash) => {
    expect(sha256(new TextEncoder().encode(text))).toBe(hash);
  });
});
