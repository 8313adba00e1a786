import { createHash, randomBytes } from 'node:crypto';
import type { TokenMaker } from '../../services/people-ports.ts';

const TOKEN_BYTES = 32;
/** Crockford's base 32: digits and capitals without I, L, O and U. */
const LABEL_SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const LABEL_LENGTH = 8;

/** Ids, secrets and label codes from the system's random source. */
export function randomTokens(now: () => number): TokenMaker {
  return {
    newId: () => timeOrderedUuid(now(), randomBytes(10)),
    newToken: () => randomBytes(TOKEN_BYTES).toString('base64url'),
    newLabelCode: () =>
      Array.from(randomBytes(LABEL_LENGTH), (byte) => LABEL_SIGNS[byte % LABEL_SIGNS.length]).join(''),
    hashOf: (token) => createHash('sha256').update(token).digest('hex'),
  };
}

/**
 * UUID version 7: 48 bits of milliseconds since 1970, then 74 random bits between version and variant. Source: [RFC9562].
 * @param random 10 bytes
 */
export function timeOrderedUuid(atMs: number, random: Uint8Array): string {
  const bytes = Buffer.alloc(16);
  bytes.writeUIntBE(atMs, 0, 6);
  bytes.set(random, 6);
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
