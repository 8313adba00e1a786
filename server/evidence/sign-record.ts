import { RECORD_SCHEMA, failure, success } from '../domain/index.ts';
import type { AuditHead, Decision, InspectionRecord, Outcome } from '../domain/index.ts';
import { openRecord } from './open-record.ts';
import type { SealKey, Sha256, Signing } from './ports.ts';
import { sealText } from './seal.ts';
import type { SealedRecord } from './seal.ts';
import { canonicalJson } from './canonical-json.ts';

export interface SignRequest extends Signing {
  readonly verdict: Decision['verdict'];
  readonly reason: string | null;
  readonly signedAt: string;
  readonly auditHead: AuditHead | null;
}

/**
 * Writes the decision into a prepared record and seals its canonical bytes. The caller has checked the signer's role and
 * password, and that the record is ready ({@link moveRecord}).
 */
export function signRecord(
  prepared: InspectionRecord,
  request: SignRequest,
  tools: { readonly key: SealKey; readonly sha256: Sha256 },
): Outcome<SealedRecord> {
  const refusal = refuse(prepared, request);
  if (refusal !== null) {
    return failure({ code: 'record-act-not-allowed', act: request.verdict, ...refusal });
  }
  const decision: Decision = {
    verdict: request.verdict,
    reason: request.reason,
    signer: request.signer,
    signedAt: request.signedAt,
    confirmedBy: 'password entered again',
    isTwoPersonRuleOn: request.isTwoPersonRuleOn,
    auditHead: request.auditHead,
  };
  const signed = { ...prepared, schema: RECORD_SCHEMA, decision };
  const opened = openRecord(signed);
  return opened.ok ? success(sealText(canonicalJson(signed), tools)) : opened;
}

function refuse(
  { prepared, decision }: InspectionRecord,
  { signer, isTwoPersonRuleOn, verdict, reason }: SignRequest,
): { state: string; detail: string } | null {
  if (decision !== null) return { state: decision.verdict, detail: 'it is already signed' };
  if (prepared === null) return { state: 'draft', detail: 'nobody has marked it ready' };
  if (isTwoPersonRuleOn && prepared.by.id === signer.id) {
    return { state: 'ready', detail: `${signer.name} prepared it, and the two-person rule is on` };
  }
  if (verdict === 'rejected' && (reason === null || reason.trim() === '')) {
    return { state: 'ready', detail: 'a rejection needs a reason' };
  }
  return null;
}
