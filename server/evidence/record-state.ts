import { failure, success } from '../domain/index.ts';
import type { Outcome, RecordState } from '../domain/index.ts';

export const RECORD_ACTS = ['edit', 'mark ready', 'withdraw', 'accept', 'reject', 'supersede'] as const;
export type RecordAct = (typeof RECORD_ACTS)[number];

/** What each state allows. Nothing leads from a signed record but being superseded by a later signed one. */
const MOVES: Readonly<Record<RecordState, Partial<Record<RecordAct, RecordState>>>> = {
  draft: { edit: 'draft', 'mark ready': 'ready' },
  ready: { withdraw: 'draft', accept: 'accepted', reject: 'rejected' },
  accepted: { supersede: 'superseded' },
  rejected: { supersede: 'superseded' },
  superseded: {},
};

const WHY_NOT: Readonly<Record<RecordState, string>> = {
  draft: 'it must be marked ready first',
  ready: 'it waits for a signature; withdraw it to change it',
  accepted: 'it is signed, and a signed record is only ever superseded',
  rejected: 'it is signed, and a signed record is only ever superseded',
  superseded: 'a later record has taken its place',
};

/** The state after an act, or why the act is not possible. */
export function moveRecord(state: RecordState, act: RecordAct): Outcome<RecordState> {
  const next = MOVES[state][act];
  if (next !== undefined) return success(next);
  return failure({ code: 'record-act-not-allowed', act, state, detail: WHY_NOT[state] });
}
