import { describe, expect, it } from 'vitest';
import { ENDPOINTS } from '../../../server/domain/api/endpoints.ts';
import type { EndpointName } from '../../../server/domain/api/endpoints.ts';
import type { Person } from '../../../server/domain/api/people.ts';
import { actOf } from '../../../server/http/audited-acts.ts';

/** Services write these themselves, in the same step as the act. */
const WRITTEN_BY_SERVICES: readonly EndpointName[] = [
  ...(['addCorrection', 'withdrawCorrection', 'startRecord', 'removeDraftRecord', 'enterReadings'] as const),
  ...(['markRecordReady', 'withdrawRecord', 'signRecord', 'supersedeRecord', 'addTimeStamp'] as const),
];
/** These change nothing that lasts, or only what a later row of the log tells. */
const NOT_LOGGED: readonly EndpointName[] = [
  ...(['revokeOwnSession', 'lookAtInvitation', 'startUpload', 'sendUploadPart', 'removeUpload'] as const),
  ...(['startAssessment', 'tryCorrection', 'checkBundle', 'drawDose', 'makeQuote'] as const),
];

const PERSON: Person = {
  id: '018f6f2e-0000-7000-8000-000000000001',
  name: 'Ida Wren',
  signInName: 'ida',
  role: 'inspector',
  isActive: true,
  hasPassword: true,
  createdAt: '2026-05-01T08:00:00.000Z',
  lastSeenAt: null,
};

describe('the log of the work model', () => {
  it('knows every endpoint that changes something, unless it is meant not to', () => {
    const names = Object.keys(ENDPOINTS) as EndpointName[];
    const changing = names.filter((name) => !['get', 'head'].includes(ENDPOINTS[name].method));
    const unknown = changing.filter((name) => actOf(name, { caller: null, params: {}, value: {} }) === null);
    expect(unknown.sort()).toEqual([...WRITTEN_BY_SERVICES, ...NOT_LOGGED].sort());
    expect(
      names.filter((name) => !changing.includes(name) && actOf(name, { caller: null, params: {}, value: {} }) !== null),
    ).toEqual([]);
  });

  it('tells who signed in, though nobody was signed in when it was asked', () => {
    const note = actOf('signIn', { caller: null, params: {}, value: { person: PERSON } });
    expect(note).toMatchObject({
      by: { id: PERSON.id, role: 'inspector' },
      act: 'signed in',
      subject: `person:${PERSON.id}`,
    });
  });

  it('keeps the hash of a photo that was put into its place', () => {
    const photo = { id: '018f6f2e-0000-7000-8000-000000000002', sha256: 'ab'.repeat(32) };
    const caller = { person: PERSON, sessionId: 's' };
    const note = actOf('attachPhoto', { caller, params: { roundId: 'r', role: 'after' }, value: { after: { photo } } });
    expect(note).toMatchObject({ subject: 'round:r', details: { photoId: photo.id, sha256: photo.sha256 } });
  });
});
