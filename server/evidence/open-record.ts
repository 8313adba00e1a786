import { RECORD_SCHEMA, failure, inspectionRecordSchema, success } from '../domain/index.ts';
import type { InspectionRecord, Outcome } from '../domain/index.ts';
import { recordFrom1To2 } from './upgrades/record-from-1-to-2.ts';
import { recordFrom2To3 } from './upgrades/record-from-2-to-3.ts';
import { upgradeDocument } from './upgrade-document.ts';
import type { UpgradeStep } from './upgrade-document.ts';

/** One step for each version before the present one, oldest first. A record is upgraded when read and never rewritten. */
const STEPS: readonly UpgradeStep[] = [recordFrom1To2, recordFrom2To3];

/** Reads a record of any version ever written. What is sealed are the bytes as kept, never what this returns. */
export function openRecord(json: unknown): Outcome<InspectionRecord> {
  const upgraded = upgradeDocument(json, { current: RECORD_SCHEMA, steps: STEPS });
  if (!upgraded.ok) return upgraded;
  const parsed = inspectionRecordSchema.safeParse(upgraded.value);
  if (parsed.success) return success(parsed.data);
  const issue = parsed.error.issues[0];
  return failure({ code: 'record-malformed', path: issue.path.join('.'), detail: `is refused: ${issue.message}` });
}
