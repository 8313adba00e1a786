import type { ServerFaultNumbers } from './server-fault.ts';

export type FaultHttpStatus = 400 | 401 | 403 | 404 | 409 | 410 | 413 | 415 | 422 | 429 | 500 | 503 | 507;

interface Face<Numbers> {
  readonly httpStatus: FaultHttpStatus;
  readonly sentence: (fault: Numbers) => string;
}

const mebibytes = (bytes: number): string => `${Math.round((bytes / 1024 / 1024) * 10) / 10} MiB`;
const waiting = (seconds: number): string =>
  seconds < 90 ? `${Math.ceil(seconds)} seconds` : `${Math.ceil(seconds / 60)} minutes`;

/** Words for the faults of the server. */
export const SERVER_FAULT_FACES: { readonly [Code in keyof ServerFaultNumbers]: Face<ServerFaultNumbers[Code]> } = {
  'not-found': {
    httpStatus: 404,
    sentence: (f) => `The ${f.noun} "${f.name}" is not there; it may have been removed. Go back to the list.`,
  },
  'already-exists': {
    httpStatus: 409,
    sentence: (f) => `The ${f.noun} "${f.name}" exists already; choose another one.`,
  },
  'state-conflict': { httpStatus: 409, sentence: (f) => `This cannot be done now: ${f.detail}.` },
  'request-malformed': {
    httpStatus: 400,
    sentence: (f) => `The ${f.place} cannot be read${f.path === '' ? '' : ` at "${f.path}"`}: ${f.detail}.`,
  },
  'body-too-large': {
    httpStatus: 413,
    sentence: (f) => `The request is larger than ${mebibytes(f.mostBytes)}; send less at once.`,
  },
  'body-wrong-type': {
    httpStatus: 415,
    sentence: (f) => `The request is written as "${f.found}"; expected application/json.`,
  },
  'sign-in-needed': { httpStatus: 401, sentence: () => 'Nobody is signed in here, or the session has ended; sign in.' },
  'sign-in-refused': {
    httpStatus: 401,
    sentence: () => 'Name and password do not belong together; check both, or ask the administrator for a new link.',
  },
  'sign-in-throttled': {
    httpStatus: 429,
    sentence: (f) => `Too many failed attempts; wait ${waiting(f.waitS)} and try again.`,
  },
  'requests-too-many': {
    httpStatus: 429,
    sentence: (f) => `Too many requests from here; wait ${waiting(f.waitS)} and try again.`,
  },
  'role-lacking': {
    httpStatus: 403,
    sentence: (f) => `The role ${f.role} may not do this; ask somebody with the role ${f.needed.join(' or ')}.`,
  },
  'origin-foreign': {
    httpStatus: 403,
    sentence: (f) =>
      `The request comes from "${f.origin}", not from this program's own pages; open the program and try there.`,
  },
  'link-spent': {
    httpStatus: 410,
    sentence: () => 'This one-time link was used already or is too old; ask the administrator for a new one.',
  },
  'password-wrong': { httpStatus: 422, sentence: () => 'The current password is not right; type it again.' },
  'upload-unfinished': {
    httpStatus: 409,
    sentence: (f) =>
      f.totalBytes === null
        ? `Only ${mebibytes(f.receivedBytes)} of the photo have arrived; let the upload finish.`
        : `Only ${mebibytes(f.receivedBytes)} of ${mebibytes(f.totalBytes)} of the photo have arrived; let the upload finish.`,
  },
  'analysis-broke-down': {
    httpStatus: 500,
    sentence: (f) =>
      `The analysis broke down ${f.attempts} times; try with another photo, and tell the administrator, who finds the cause in the log.`,
  },
  'storage-full': {
    httpStatus: 507,
    sentence: () => 'The disk of the server is full; nothing was lost, but the administrator must make room first.',
  },
  'server-failed': {
    httpStatus: 500,
    sentence: () => 'Something failed that should not; try again, and tell the administrator the number below.',
  },
};
