import { DerError, TAG, expectTag, readDer, within, writeOid } from './der.ts';
import type { DerNode } from './der.ts';
import { OID } from './object-names.ts';

interface StampInfo {
  /** Imprint as it stands in the token, to be compared byte for byte. */
  readonly imprint: Uint8Array;
  readonly at: Date;
  /** Content of the nonce's integer; null when the token has none. */
  readonly nonce: Uint8Array | null;
}

export interface StampToken {
  readonly info: StampInfo;
  readonly infoBytes: Uint8Array;
  /** DER of every certificate in the token. */
  readonly certificates: readonly Uint8Array[];
  readonly signer: {
    /** The SET of attributes that is signed. */
    readonly signedAttributes: Uint8Array;
    readonly attributes: readonly DerNode[];
    readonly digestOid: Uint8Array;
    readonly signature: Uint8Array;
  };
}

/** Takes a reply (TimeStampResp) apart. Source: [RFC3161], 2.4.2; [RFC5652], 5. @throws DerError for what is not one */
export function readReply(reply: Uint8Array): StampToken {
  const [outer, ...more] = readDer(reply);
  if (more.length > 0) throw new DerError('bytes follow after the reply');
  const [status, token] = within(outer, TAG.sequence, 'the reply');
  const [code] = within(status, TAG.sequence, 'the status');
  const granted = expectTag(code, TAG.integer, 'the status').content;
  if (granted.length !== 1 || granted[0] > 1) {
    throw new DerError(`the authority refused the request (status ${granted[0]})`);
  }
  const [type, wrapped] = within(token, TAG.sequence, 'the token');
  expectOid(type, OID.signedData, 'signed data');
  const [signedData] = within(wrapped, TAG.context0, 'the signed data');
  const [, , encapsulated, ...rest] = within(signedData, TAG.sequence, 'the signed data');
  const infoBytes = readEncapsulated(encapsulated);
  const certificates = rest.filter((node) => node.tag === TAG.context0).flatMap((node) => readDer(node.content));
  const [signer] = within(rest.at(-1), TAG.set, 'the signer');
  return {
    info: readInfo(infoBytes),
    infoBytes,
    certificates: certificates.map((node) => node.whole),
    signer: readSigner(signer),
  };
}

function readEncapsulated(node: DerNode | undefined): Uint8Array {
  const [type, wrapped] = within(node, TAG.sequence, 'the stamp');
  expectOid(type, OID.stampInfo, 'a time stamp');
  const [octets] = within(wrapped, TAG.context0, 'the stamp');
  return expectTag(octets, TAG.octets, 'the stamp').content;
}

function readInfo(bytes: Uint8Array): StampInfo {
  const [node] = readDer(bytes);
  const [, , imprint, , time, ...rest] = within(node, TAG.sequence, 'the stamp');
  const nonce = rest.find((field) => field.tag === TAG.integer);
  return {
    imprint: expectTag(imprint, TAG.sequence, 'the imprint').whole,
    at: readTime(expectTag(time, TAG.time, 'the time').content),
    nonce: nonce?.content ?? null,
  };
}

/** GeneralizedTime in UTC, e.g. "20261125093000.5Z". */
function readTime(content: Uint8Array): Date {
  const match = /^(\d{4})(\d\d)(\d\d)(\d\d)(\d\d)(\d\d(?:\.\d+)?)Z$/.exec(Buffer.from(content).toString('latin1'));
  if (match === null) throw new DerError('the time is not in UTC');
  const [year, month, day, hour, minute, second] = match.slice(1).map(Number);
  const at = new Date(Date.UTC(year, month - 1, day, hour, minute, 0) + Math.round(1000 * second));
  if (Number.isNaN(at.getTime())) throw new DerError('the time cannot be read');
  return at;
}

function readSigner(node: DerNode | undefined): StampToken['signer'] {
  const [, , digest, signed, , signature] = within(node, TAG.sequence, 'the signer');
  const attributes = expectTag(signed, TAG.context0, 'the signed attributes');
  const [digestOid] = within(digest, TAG.sequence, 'the digest');
  return {
    // Signed as a SET, stored under another tag. Source: [RFC5652], 5.4.
    signedAttributes: Buffer.concat([Uint8Array.of(TAG.set), attributes.whole.subarray(1)]),
    attributes: readDer(attributes.content),
    digestOid: expectTag(digestOid, TAG.oid, 'the digest').whole,
    signature: expectTag(signature, TAG.octets, 'the signature').content,
  };
}

export function isOid(node: Uint8Array | undefined, name: string): boolean {
  return node !== undefined && Buffer.compare(node, writeOid(name)) === 0;
}

function expectOid(node: DerNode | undefined, name: string, what: string): void {
  if (!isOid(node?.whole, name)) throw new DerError(`it is not ${what}`);
}
