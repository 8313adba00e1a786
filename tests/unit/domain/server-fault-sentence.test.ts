import { describe, expect, it } from 'vitest';
import { FAULT_CODES, faultHttpStatus, faultSentence } from '../../../server/domain/index.ts';
import type { Fault } from '../../../server/domain/index.ts';
import { SERVER_FAULT_FACES } from '../../../server/domain/server-fault-sentence.ts';

const MEBIBYTE = 1024 * 1024;
const EXAMPLES: readonly (readonly [Fault, number, RegExp])[] = [
  [{ code: 'not-found', noun: 'zone', name: 'x1' }, 404, /zone "x1" is not there/],
  [{ code: 'already-exists', noun: 'sign-in name', name: 'ove' }, 409, /"ove" exists already/],
  [{ code: 'state-conflict', detail: 'round 2 has no after photo yet' }, 409, /round 2 has no after photo yet\.$/],
  [
    { code: 'request-malformed', place: 'body', path: 'name', detail: 'too short' },
    400,
    /body .* at "name": too short/,
  ],
  [{ code: 'request-malformed', place: 'body', path: '', detail: 'it is not JSON' }, 400, /read: it is not JSON/],
  [{ code: 'body-too-large', mostBytes: 256 * 1024 }, 413, /larger than 0\.3 MiB/],
  [{ code: 'body-wrong-type', found: 'text/html' }, 415, /text\/html/],
  [{ code: 'sign-in-needed' }, 401, /sign in/],
  [{ code: 'sign-in-refused' }, 401, /do not belong together/],
  [{ code: 'sign-in-throttled', waitS: 30 }, 429, /wait 30 seconds/],
  [{ code: 'requests-too-many', waitS: 600 }, 429, /wait 10 minutes/],
  [{ code: 'role-lacking', role: 'operator', needed: ['trainer', 'administrator'] }, 403, /trainer or administrator/],
  [{ code: 'origin-foreign', origin: 'https://evil.example' }, 403, /evil\.example/],
  [{ code: 'link-spent' }, 410, /one-time link/],
  [{ code: 'password-wrong' }, 422, /current password/],
  [{ code: 'upload-unfinished', receivedBytes: MEBIBYTE, totalBytes: 3 * MEBIBYTE }, 409, /1 MiB of 3 MiB/],
  [{ code: 'upload-unfinished', receivedBytes: MEBIBYTE, totalBytes: null }, 409, /Only 1 MiB/],
  [{ code: 'analysis-broke-down', attempts: 3 }, 500, /3 times/],
  [{ code: 'storage-full' }, 507, /disk .* full/],
  [{ code: 'server-failed' }, 500, /try again/],
];

describe('the faults of the server', () => {
  it.each(EXAMPLES)('%o has its status and a sentence with its numbers', (fault, status, sentence) => {
    expect(faultHttpStatus(fault)).toBe(status);
    expect(faultSentence(fault)).toMatch(sentence);
    expect(faultSentence(fault)).toMatch(/^[A-Z].*\.$/);
  });

  it('all have an example here and a place in the union', () => {
    const codes = Object.keys(SERVER_FAULT_FACES);
    expect([...new Set(EXAMPLES.map(([fault]) => fault.code))].sort()).toEqual(codes.sort());
    for (const code of codes) expect(FAULT_CODES).toContain(code);
  });
});
