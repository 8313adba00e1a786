import { describe, expect, it } from 'vitest';
import { goldenTimeStamp } from '../../../../fixtures/golden-records.ts';
import { timeStamps } from '../../../../server/adapters/security/time-stamp/time-stamps.ts';
import { goldenEvidence } from '../../../support/evidence-tools.ts';

const stamps = timeStamps();
const { reply, rootPem } = goldenTimeStamp();
const stamped = Buffer.from(goldenEvidence('rudder-stock').sealed.seal.signature, 'hex');

describe('a time-stamp request', () => {
  /** Laid out by hand from RFC 3161, 2.4.1; OpenSSL 3.0 read the same bytes and answered them with the fixture's reply. */
  it('is version 1, the SHA-256 of the bytes, the nonce as a positive number, and asks for the certificate', () => {
    const request = stamps.request(new TextEncoder().encode('abc'), Uint8Array.of(0x8f, 1));
    expect(Buffer.from(request).toString('hex')).toBe(
      '303e' +
        '020101' +
        '3031300d060960864801650304020105000420ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad' +
        '0203008f01' +
        '0101ff',
    );
  });
});

describe('a reply of another program (OpenSSL 3.0)', () => {
  it('holds, with its moment and its authority, trusted only with the authority’s root', () => {
    const trusted = stamps.check(reply, stamped, rootPem);
    expect(trusted).toMatchObject({
      ok: true,
      value: { authority: 'Teasel test time stamps (invented)', isAuthorityTrusted: true },
    });
    if (trusted.ok) expect(trusted.value.at).toMatch(/^2026-11-25T\d\d:\d\d:\d\d\.000Z$/);
    expect(stamps.check(reply, stamped, '')).toMatchObject({ ok: true, value: { isAuthorityTrusted: false } });
  });

  it('is refused for other bytes', () => {
    expect(stamps.check(reply, Buffer.from('other'), rootPem)).toEqual({
      ok: false,
      fault: { code: 'time-stamp-refused', detail: 'it was made for other bytes' },
    });
  });

  it('never changes its moment or its authority unnoticed: any flipped bit is refused or changes nothing that is told', () => {
    const told = stamps.check(reply, stamped, rootPem);
    for (let at = 0; at < reply.length; at++) {
      const flipped = Uint8Array.from(reply, (byte, k) => (k === at ? byte ^ 0x10 : byte));
      const outcome = stamps.check(flipped, stamped, rootPem);
      if (outcome.ok) expect(outcome).toEqual(told);
      else expect(outcome.fault.code).toBe('time-stamp-refused');
    }
  });

  it.each([
    ['nothing', new Uint8Array()],
    ['text', Buffer.from('no reply')],
    ['a cut reply', reply.subarray(0, 300)],
    ['a refusal (status 2)', Buffer.from('30053003020102', 'hex')],
    ['an endless length', Buffer.from('3080', 'hex')],
  ])('is refused when it is %s', (_what, bytes) => {
    expect(stamps.check(bytes, stamped, rootPem)).toMatchObject({ ok: false, fault: { code: 'time-stamp-refused' } });
  });
});
