import { createHash } from 'node:crypto';
import { TAG, writeDer, writeInteger, writeOid } from './der.ts';
import { OID } from './object-names.ts';

const TRUE = Uint8Array.of(0x01, 0x01, 0xff);
const NULL = Uint8Array.of(0x05, 0x00);

/** The SHA-256 of what is stamped, as request and reply carry it. Source: [RFC3161], 2.4.1. */
export function messageImprint(stamped: Uint8Array): Uint8Array {
  const hash = createHash('sha256').update(stamped).digest();
  const algorithm = writeDer(TAG.sequence, writeOid(OID.sha256), NULL);
  return writeDer(TAG.sequence, algorithm, writeDer(TAG.octets, hash));
}

/** A time-stamp request (TimeStampReq), certificate wanted, any policy. Source: [RFC3161], 2.4.1. */
export function stampRequest(stamped: Uint8Array, nonce: Uint8Array): Uint8Array {
  const version = writeInteger(Uint8Array.of(1));
  return writeDer(TAG.sequence, version, messageImprint(stamped), writeInteger(nonce), TRUE);
}
