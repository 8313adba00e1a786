import { failure } from '../domain/index.ts';
import type { Fault } from '../domain/index.ts';

/** What a signed record belongs to is never removed. @param noun the operator's word for it */
export const signedRecordStands = (noun: string): { readonly ok: false; readonly fault: Fault } =>
  failure({ code: 'state-conflict', detail: `a signed record belongs to this ${noun}; put the job away instead` });
