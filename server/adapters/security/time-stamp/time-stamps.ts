import { createHash, verify, X509Certificate } from 'node:crypto';
import { failure, success } from '../../../domain/index.ts';
import type { Outcome } from '../../../domain/index.ts';
import type { TimeStamp, TimeStamps } from '../../../services/evidence-ports.ts';
import { DerError, TAG, expectTag, within } from './der.ts';
import { OID } from './object-names.ts';
import { isOid, readReply } from './read-reply.ts';
import type { StampToken } from './read-reply.ts';
import { messageImprint, stampRequest } from './stamp-request.ts';

/** Time stamps by RFC 3161 without any network: requests and replies are files. Source: [RFC3161], 2.2. */
export function timeStamps(): TimeStamps {
  return { request: stampRequest, check };
}

function check(reply: Uint8Array, stamped: Uint8Array, roots: string): Outcome<TimeStamp> {
  try {
    const token = readReply(reply);
    if (Buffer.compare(token.info.imprint, messageImprint(stamped)) !== 0) {
      throw new DerError('it was made for other bytes');
    }
    const certificates = token.certificates.map((der) => new X509Certificate(der));
    const signer = findSigner(token, certificates);
    checkAttributes(token, signer);
    return success({
      at: token.info.at.toISOString(),
      authority: commonName(signer),
      isAuthorityTrusted: leadsTo(signer, certificates, readRoots(roots), token.info.at),
    });
  } catch (error) {
    if (error instanceof DerError) return failure({ code: 'time-stamp-refused', detail: error.message });
    if (isCryptoError(error)) return failure({ code: 'time-stamp-refused', detail: 'its certificate cannot be read' });
    throw error;
  }
}

const DIGESTS = { [OID.sha256]: 'sha256', [OID.sha384]: 'sha384', [OID.sha512]: 'sha512' } as const;

/** The certificate whose key made the signature, and that is meant for nothing but time stamps. */
function findSigner(token: StampToken, certificates: readonly X509Certificate[]): X509Certificate {
  const { signer } = token;
  const digest = Object.entries(DIGESTS).find(([oid]) => isOid(signer.digestOid, oid))?.[1];
  if (digest === undefined) throw new DerError('it uses a digest other than SHA-2');
  const found = certificates.find((certificate) => {
    const key = certificate.publicKey;
    const algorithm = key.asymmetricKeyType === 'ed25519' ? null : digest;
    return verify(algorithm, signer.signedAttributes, key, signer.signature);
  });
  if (found === undefined) throw new DerError('its signature belongs to none of its certificates');
  // Undefined for a certificate that states none, which the library's types leave out.
  const usages = found.keyUsage as readonly string[] | undefined;
  if (usages?.length !== 1 || usages[0] !== OID.timeStamping) {
    throw new DerError('its certificate is not one for time stamps alone');
  }
  return found;
}

/** The signed attributes must name the stamp's digest, its type, and the signer's certificate. Source: [RFC3161], 2.4.2. */
function checkAttributes(token: StampToken, signer: X509Certificate): void {
  const digest = Object.entries(DIGESTS).find(([oid]) => isOid(token.signer.digestOid, oid))?.[1] ?? 'sha256';
  const expected = createHash(digest).update(token.infoBytes).digest();
  const stated = expectTag(attribute(token, OID.messageDigest), TAG.octets, 'the digest of the stamp').content;
  if (Buffer.compare(stated, expected) !== 0) throw new DerError('the stamp was altered');
  if (!isOid(attribute(token, OID.contentType).whole, OID.stampInfo)) throw new DerError('it is not a time stamp');
  const second = findAttribute(token, OID.signingCertificateV2);
  const named = Buffer.from((second ?? attribute(token, OID.signingCertificateV1)).whole);
  // SHA-256 is the default of the second form, SHA-1 the only one of the first. Source: [RFC5035].
  const hashes = ['sha1', 'sha256', 'sha384', 'sha512'].map((name) => createHash(name).update(signer.raw).digest());
  if (!hashes.some((hash) => named.includes(hash))) throw new DerError('it names another certificate');
}

function attribute(token: StampToken, oid: string): ReturnType<typeof expectTag> {
  const found = findAttribute(token, oid);
  if (found === undefined) throw new DerError('a signed attribute is missing');
  return found;
}

function findAttribute(token: StampToken, oid: string): ReturnType<typeof expectTag> | undefined {
  for (const node of token.signer.attributes) {
    const [type, values] = within(node, TAG.sequence, 'an attribute');
    if (isOid(type.whole, oid)) return within(values, TAG.set, 'an attribute')[0];
  }
  return undefined;
}

const LONGEST_CHAIN = 8;

/** Whether the certificate, by way of the others in the token, was issued under one of the roots and was valid at the time. */
function leadsTo(
  signer: X509Certificate,
  others: readonly X509Certificate[],
  roots: readonly X509Certificate[],
  at: Date,
): boolean {
  let current = signer;
  for (let step = 0; step < LONGEST_CHAIN; step++) {
    if (!isValidAt(current, at)) return false;
    const issued = current;
    if (roots.some((root) => root.fingerprint256 === issued.fingerprint256 || isIssuedBy(issued, root))) return true;
    const next = others.find((other) => other.ca && other !== issued && isIssuedBy(issued, other));
    if (next === undefined) return false;
    current = next;
  }
  return false;
}

const isIssuedBy = (certificate: X509Certificate, issuer: X509Certificate): boolean =>
  certificate.checkIssued(issuer) && certificate.verify(issuer.publicKey);

const isValidAt = (certificate: X509Certificate, at: Date): boolean =>
  at >= new Date(certificate.validFrom) && at <= new Date(certificate.validTo);

function readRoots(pem: string): X509Certificate[] {
  const blocks = pem.match(/-----BEGIN CERTIFICATE-----[\s\S]*?-----END CERTIFICATE-----/g) ?? [];
  return blocks.map((block) => new X509Certificate(block));
}

function commonName(certificate: X509Certificate): string {
  const names = certificate.subject.split('\n');
  return names.find((name) => name.startsWith('CN='))?.slice(3) ?? names.join(', ');
}

const isCryptoError = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' && error.code.startsWith('ERR_');
