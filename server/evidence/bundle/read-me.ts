import type { InspectionRecord, Seal } from '../../domain/index.ts';
import { BUNDLE } from './bundle-names.ts';

/** What a reader without this program does to check the bundle by hand. Plain ASCII. */
export function readMeText(record: InspectionRecord, seal: Seal, hasTimeStamp: boolean): string {
  const { decision } = record;
  const lines = [
    'Evidence of one inspected zone',
    '==============================',
    '',
    `Record      ${record.id}`,
    `Result      ${decision === null ? 'not signed' : `${decision.verdict} on ${decision.signedAt}`}`,
    `SHA-256     ${seal.recordSha256}`,
    `Key         ${spaced(seal.keyFingerprint)}`,
    ...(record.isInvented ? ['', 'DEMONSTRATION: everything in this record is invented.'] : []),
    '',
    'What is in it',
    '-------------',
    `${BUNDLE.record}       the record: what was asked, done, measured, read and decided`,
    `${BUNDLE.report}        the same for people; ${BUNDLE.record} is attached to it`,
    'photos/           the photos as the phone wrote them',
    'class-maps/       what each pixel was taken for: 0 not measured, 1 bare, 2 stain, 3 rust, 4 scale, 5 coating',
    '                  (names ending in "-corrected": the same after corrections that people painted by hand)',
    'card/             values of the reference card',
    `${BUNDLE.recordSignature}        signature of ${BUNDLE.record}`,
    `${BUNDLE.manifest}   SHA-256 of every other file`,
    `${BUNDLE.manifestSignature}      signature of ${BUNDLE.manifest}`,
    `${BUNDLE.publicKey}    key to check both signatures with`,
    ...(hasTimeStamp ? [`${BUNDLE.timeStamp}    time stamp (RFC 3161) of ${BUNDLE.recordSignature}`] : []),
    '',
    'How to check it',
    '---------------',
    'In the unpacked folder, with coreutils and OpenSSL 3:',
    '',
    '1. Is the key the right one? Compare the first 32 digits with the fingerprint that the shop gives you on paper or by',
    '   telephone, not with the one above: whoever forges a bundle can put another key into it.',
    `     openssl pkey -pubin -in ${BUNDLE.publicKey} -outform DER | sha256sum`,
    '2. Is the list of files signed with it?',
    `     openssl pkeyutl -verify -pubin -inkey ${BUNDLE.publicKey} -rawin -in ${BUNDLE.manifest} -sigfile ${BUNDLE.manifestSignature}`,
    '3. Is every file as listed?',
    `     sha256sum --check --strict ${BUNDLE.manifest}`,
    '4. Is the record signed?',
    `     openssl pkeyutl -verify -pubin -inkey ${BUNDLE.publicKey} -rawin -in ${BUNDLE.record} -sigfile ${BUNDLE.recordSignature}`,
    ...(hasTimeStamp
      ? [
          '5. When at the latest was it signed? With the certificate of the time-stamping authority in tsa.pem:',
          `     openssl ts -verify -data ${BUNDLE.recordSignature} -in ${BUNDLE.timeStamp} -CAfile tsa.pem`,
          `     openssl ts -reply -in ${BUNDLE.timeStamp} -text`,
        ]
      : []),
    '',
    'Signatures are Ed25519 (RFC 8032). The record is canonical JSON (RFC 8785): the signature is over its bytes.',
    'The bundle supports an inspector. It certifies nothing.',
  ];
  return `${lines.join('\n')}\n`;
}

const spaced = (digits: string): string => digits.replace(/(.{4})(?=.)/g, '$1 ');
