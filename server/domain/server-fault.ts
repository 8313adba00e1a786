import type { Role } from './api/roles.ts';

type NoNumbers = unknown;

/** Expected failures of talking to the server, a part of the one union in fault.ts. */
export interface ServerFaultNumbers {
  'not-found': { noun: string; name: string };
  'already-exists': { noun: string; name: string };
  /** The thing is not in a state that allows this. */
  'state-conflict': { detail: string };
  'request-malformed': { place: 'path' | 'query' | 'body'; path: string; detail: string };
  'body-too-large': { mostBytes: number };
  'body-wrong-type': { found: string };
  'sign-in-needed': NoNumbers;
  'sign-in-refused': NoNumbers;
  'sign-in-throttled': { waitS: number };
  'requests-too-many': { waitS: number };
  'role-lacking': { role: Role; needed: readonly Role[] };
  'origin-foreign': { origin: string };
  'link-spent': NoNumbers;
  'password-wrong': NoNumbers;
  'upload-unfinished': { receivedBytes: number; totalBytes: number | null };
  'analysis-broke-down': { attempts: number };
  'storage-full': NoNumbers;
  'server-failed': NoNumbers;
}
