import { failure } from '../domain/index.ts';
import type { Fault } from '../domain/index.ts';

/** What is asked for is not there. @param noun the operator's word for it */
export const absent = (noun: string, name: string): { readonly ok: false; readonly fault: Fault } =>
  failure({ code: 'not-found', noun, name });
