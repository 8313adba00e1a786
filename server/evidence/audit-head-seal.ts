import { sealedHeadSchema, SEALED_HEAD_SCHEMA } from '../domain/index.ts';
import type { AuditHead } from '../domain/index.ts';
import { canonicalBytes, canonicalJson } from './canonical-json.ts';
import { fromHexadecimal, toHexadecimal } from './hexadecimal.ts';
import type { SealKey, SignatureCheck } from './ports.ts';

const signedPart = ({ sequence, hash }: AuditHead): object => ({
  schema: SEALED_HEAD_SCHEMA,
  head: { sequence, hash },
});

/** The head of the audit log under the installation's signature, to be kept apart from the log. Source: [RFC8032]. */
export const sealAuditHead = (head: AuditHead, key: SealKey): string =>
  canonicalJson({
    ...signedPart(head),
    publicKeyPem: key.publicKeyPem,
    signature: toHexadecimal(key.sign(canonicalBytes(signedPart(head)))),
  });

/**
 * The head that a sealed text states; null for a text that was altered or that another key signed.
 * @param ownFingerprint of the installation's key; null where that is not known
 */
export function openAuditHead(
  text: string,
  { signatures, ownFingerprint }: { readonly signatures: SignatureCheck; readonly ownFingerprint: string | null },
): AuditHead | null {
  const parsed = sealedHeadSchema.safeParse(jsonOrNull(text));
  if (!parsed.success) return null;
  const { head, publicKeyPem, signature } = parsed.data;
  const fingerprint = signatures.fingerprint(publicKeyPem);
  if (fingerprint === null || (ownFingerprint !== null && fingerprint !== ownFingerprint)) return null;
  return signatures.holds(publicKeyPem, canonicalBytes(signedPart(head)), fromHexadecimal(signature)) ? head : null;
}

function jsonOrNull(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
