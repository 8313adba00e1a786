import type { Fault } from './fault.ts';

/** Expected failures are returned, broken invariants throw. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: Fault };

export const success = <T>(value: T): Outcome<T> => ({ ok: true, value });
export const failure = (fault: Fault): { readonly ok: false; readonly fault: Fault } => ({ ok: false, fault });
