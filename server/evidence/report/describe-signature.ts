import type { InspectionRecord, Seal } from '../../domain/index.ts';
import { momentWords } from './quantity-words.ts';
import type { ReportFact, ReportVerdict } from './report.ts';

export function describeVerdict({ decision }: InspectionRecord): ReportVerdict {
  if (decision === null) {
    return { word: 'Not signed', mark: 'pen', sentence: 'Nobody has signed this record: it is a draft.', reason: null };
  }
  const { verdict, signer, signedAt, reason } = decision;
  return {
    word: verdict === 'accepted' ? 'Accepted' : 'Rejected',
    mark: verdict === 'accepted' ? 'tick' : 'cross',
    sentence: `by ${signer.name}, ${signer.role}, ${momentWords(signedAt)}`,
    reason,
  };
}

export function describeSignature(record: InspectionRecord, seal: Seal | null): ReportFact[] {
  const { prepared, decision, supersedes } = record;
  const facts: ReportFact[] = [];
  if (prepared !== null) {
    facts.push({
      label: 'Prepared by',
      value: `${prepared.by.name}, ${prepared.by.role}`,
      note: momentWords(prepared.at),
    });
  }
  if (decision === null) facts.push({ label: 'Signed by', value: 'not signed' });
  else {
    facts.push(
      {
        label: decision.verdict === 'accepted' ? 'Accepted by' : 'Rejected by',
        value: `${decision.signer.name}, ${decision.signer.role}`,
        note: `${momentWords(decision.signedAt)}; ${decision.confirmedBy}`,
      },
      {
        label: 'Two-person rule',
        value: decision.isTwoPersonRuleOn ? 'on: the signer did not prepare the record' : 'off',
      },
    );
    if (decision.reason !== null) facts.push({ label: 'Reason', value: decision.reason, isEntered: true });
    if (decision.auditHead !== null) {
      facts.push({
        label: 'Audit log at signing',
        value: `row ${decision.auditHead.sequence}`,
        note: decision.auditHead.hash,
      });
    }
  }
  if (supersedes !== null) facts.push({ label: 'Takes the place of', value: supersedes.id, note: supersedes.sha256 });
  if (seal !== null) {
    facts.push(
      { label: 'SHA-256 of the record', value: seal.recordSha256 },
      { label: 'Signature (Ed25519)', value: seal.signature },
      { label: 'Fingerprint of the key', value: seal.keyFingerprint.replace(/(.{4})(?=.)/g, '$1 ') },
    );
  }
  return facts;
}
