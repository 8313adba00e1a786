import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBench } from '../support/server-bench.ts';
import type { Bench } from '../support/server-bench.ts';

const PASSWORD = 'rust never sleeps 7';
const WRONG = 'rust always sleeps 7';
const ADMINISTRATOR = { name: 'Wilhelmina Test', signInName: 'Wil', password: PASSWORD };

let bench: Bench;
beforeEach(async () => {
  bench = await openBench();
});
afterEach(() => bench.stop());

/** Calls with the cookies that the server set, as a browser does. */
const cookieOf = (headers: Headers): string => (headers.get('set-cookie') ?? '').split(';')[0];

const setUp = async (): Promise<string> => {
  const made = await bench.anonymous().call('setUp', { body: { ...ADMINISTRATOR, token: bench.setupToken ?? '' } });
  expect(made.status).toBe(201);
  return cookieOf(made.headers);
};

describe('the first start', () => {
  it('makes one administrator by the one-time link, and only one', async () => {
    const anonymous = bench.anonymous();
    expect((await anonymous.call('readWho')).body).toMatchObject({ person: null, needsSetup: true });
    const cookie = await setUp();
    const who = await anonymous.call('readWho', {}, { cookie });
    expect(who.body).toMatchObject({ person: { role: 'administrator', signInName: 'wil' }, needsSetup: false });
    const body = { ...ADMINISTRATOR, signInName: 'other', token: bench.setupToken ?? '' };
    expect(await anonymous.callLoosely('setUp', { body })).toMatchObject({ status: 410, body: { code: 'link-spent' } });
  });

  it('refuses a made-up link and a short password', async () => {
    const token = 'A'.repeat(43);
    const madeUp = await bench.anonymous().callLoosely('setUp', { body: { ...ADMINISTRATOR, token } });
    expect(madeUp).toMatchObject({ status: 410 });
    const short = { ...ADMINISTRATOR, token: bench.setupToken ?? '', password: 'short' };
    expect(await bench.anonymous().callLoosely('setUp', { body: short })).toMatchObject({ status: 400 });
  });

  it('lets two who use the link at once make one administrator', async () => {
    const attempts = ['first', 'second', 'third'].map((signInName) =>
      bench.anonymous().callLoosely('setUp', { body: { ...ADMINISTRATOR, signInName, token: bench.setupToken ?? '' } }),
    );
    const statuses = (await Promise.all(attempts)).map((answer) => answer.status);
    expect(statuses.filter((status) => status === 201)).toHaveLength(1);
  });
});

describe('a session', () => {
  it('is a cookie that scripts and other sites cannot use', async () => {
    await setUp();
    const signedIn = await bench.anonymous().call('signIn', { body: { signInName: 'wil', password: PASSWORD } });
    const cookie = signedIn.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/^bareplate=[\w-]{43};/);
    for (const attribute of ['HttpOnly', 'SameSite=Strict', 'Path=/']) expect(cookie).toContain(attribute);
    expect(cookie).not.toContain('Secure');
  });

  it('ends when its owner signs out, and its token is worth nothing afterwards', async () => {
    const cookie = await setUp();
    const anonymous = bench.anonymous();
    expect((await anonymous.call('listJobs', {}, { cookie })).status).toBe(200);
    expect((await anonymous.call('signOut', {}, { cookie })).status).toBe(204);
    expect((await anonymous.callLoosely('listJobs', {}, { cookie })).status).toBe(401);
  });

  it('can be ended from another device, but not by another person', async () => {
    const first = await setUp();
    const signedIn = await bench.anonymous().call('signIn', { body: { signInName: 'wil', password: PASSWORD } });
    const second = cookieOf(signedIn.headers);
    const sessions = await bench.anonymous().call('listOwnSessions', {}, { cookie: second });
    const other = sessions.body.items.find((session) => !session.isCurrent);
    const params = { sessionId: other?.id ?? '' };
    expect((await (await bench.as('administrator')).callLoosely('revokeOwnSession', { params })).status).toBe(404);
    expect((await bench.anonymous().call('revokeOwnSession', { params }, { cookie: second })).status).toBe(204);
    expect((await bench.anonymous().callLoosely('listJobs', {}, { cookie: first })).status).toBe(401);
    expect((await bench.anonymous().callLoosely('listJobs', {}, { cookie: second })).status).toBe(200);
  });

  it('of other devices ends when the password changes', async () => {
    const first = await setUp();
    const signedIn = await bench.anonymous().call('signIn', { body: { signInName: 'wil', password: PASSWORD } });
    const cookie = cookieOf(signedIn.headers);
    const next = 'mill scale is blue 8';
    const refused = await bench
      .anonymous()
      .callLoosely('changePassword', { body: { current: WRONG, next } }, { cookie });
    expect(refused).toMatchObject({ status: 422, body: { code: 'password-wrong' } });
    const body = { current: PASSWORD, next };
    expect((await bench.anonymous().call('changePassword', { body }, { cookie })).status).toBe(204);
    expect((await bench.anonymous().callLoosely('listJobs', {}, { cookie: first })).status).toBe(401);
    const old = await bench.anonymous().callLoosely('signIn', { body: { signInName: 'wil', password: PASSWORD } });
    expect(old.status).toBe(401);
  });

  it('ends by itself after thirty days, and after a week without use', async () => {
    const operator = await bench.as('operator');
    const { ledger, tokens } = bench.adapters;
    const found = await ledger.sessions.findByTokenHash(tokens.hashOf(operator.token ?? ''));
    await ledger.sessions.touch(found?.session.id ?? '', new Date(Date.now() - 8 * 86_400_000).toISOString());
    expect((await operator.callLoosely('listJobs')).status).toBe(401);
  });
});

describe('guessing', () => {
  it('is slowed down after five wrong passwords, for the right one too, and tells how long', async () => {
    await setUp();
    const attempt = (password: string): ReturnType<typeof signIn> => signIn('wil', password);
    const signIn = (signInName: string, password: string) =>
      bench.anonymous().callLoosely('signIn', { body: { signInName, password } });
    for (let i = 0; i < 5; i++) expect((await attempt(WRONG)).body.code).toBe('sign-in-refused');
    const throttled = await attempt(PASSWORD);
    expect(throttled).toMatchObject({ status: 429, body: { code: 'sign-in-throttled' } });
    expect(Number(throttled.headers.get('retry-after'))).toBeGreaterThan(10);
  });

  it('does not hold up one person who signs in on eight phones at once', async () => {
    await setUp();
    const phones = Array.from({ length: 8 }, () =>
      bench.anonymous().callLoosely('signIn', { body: { signInName: 'wil', password: PASSWORD } }),
    );
    expect((await Promise.all(phones)).map(({ status }) => status)).toEqual(phones.map(() => 200));
  });

  it('learns the same from a name that is not there as from one that is', async () => {
    await setUp();
    const answers = [];
    for (const signInName of ['wil', 'nobody']) {
      answers.push(await bench.anonymous().callLoosely('signIn', { body: { signInName, password: WRONG } }));
    }
    const [real, madeUp] = answers.map(({ status, body }) => ({ status, code: body.code, detail: body.detail }));
    expect(real).toEqual(madeUp);
  });
});

describe('an invitation', () => {
  it('lets a new person in once, and its link sets the password', async () => {
    const administrator = await bench.as('administrator');
    const invited = await administrator.call('invitePerson', {
      body: { name: 'Ove Test', signInName: 'ove', role: 'operator' },
    });
    const [address, token] = invited.body.invitation.link.split('#');
    expect(address).toBe(`${bench.url}/join`);
    const look = await bench.anonymous().call('lookAtInvitation', { body: { token } });
    expect(look.body).toEqual({ name: 'Ove Test', signInName: 'ove' });
    const used = await bench.anonymous().call('useInvitation', { body: { token, password: PASSWORD } });
    expect(used.body).toMatchObject({ person: { role: 'operator', hasPassword: true } });
    const again = await bench.anonymous().callLoosely('useInvitation', { body: { token, password: WRONG } });
    expect(again).toMatchObject({ status: 410 });
    const signedIn = await bench.anonymous().call('signIn', { body: { signInName: 'OVE', password: PASSWORD } });
    expect(signedIn.status).toBe(200);
  });

  it('stops working when a newer one is made or the person is switched off', async () => {
    const administrator = await bench.as('administrator');
    const invited = await administrator.call('invitePerson', {
      body: { name: 'Ove Test', signInName: 'ove', role: 'operator' },
    });
    const params = { personId: invited.body.person.id };
    const renewed = await administrator.call('renewInvitation', { params });
    const tokens = [invited.body.invitation.link, renewed.body.link].map((link) => link.split('#')[1]);
    const looks = async (): Promise<number[]> => {
      const answers = tokens.map((token) => bench.anonymous().callLoosely('lookAtInvitation', { body: { token } }));
      return (await Promise.all(answers)).map((answer) => answer.status);
    };
    expect(await looks()).toEqual([410, 200]);
    await administrator.call('changePerson', { params, body: { isActive: false } });
    expect(await looks()).toEqual([410, 410]);
  });

  it('is refused for a sign-in name that is taken', async () => {
    const administrator = await bench.as('administrator');
    const body = { name: 'Ove Test', signInName: 'ove', role: 'operator' } as const;
    await administrator.call('invitePerson', { body });
    const again = await administrator.callLoosely('invitePerson', { body: { ...body, signInName: 'Ove' } });
    expect(again).toMatchObject({ status: 409, body: { code: 'already-exists' } });
  });
});

describe('administrators', () => {
  it('cannot shut themselves out', async () => {
    const administrator = await bench.as('administrator');
    const params = { personId: administrator.personId ?? '' };
    for (const body of [{ isActive: false }, { role: 'operator' as const }]) {
      expect(await administrator.callLoosely('changePerson', { params, body })).toMatchObject({
        status: 409,
        body: { code: 'state-conflict' },
      });
    }
  });
});

describe('behind a proxy that speaks TLS', () => {
  it('binds the cookie to host and TLS, and takes the proxy at its word only when told to', async () => {
    await bench.stop();
    bench = await openBench({ environment: { BAREPLATE_TRUSTED_PROXIES: '1' } });
    const made = await bench
      .anonymous()
      .call(
        'setUp',
        { body: { ...ADMINISTRATOR, token: bench.setupToken ?? '' } },
        { 'x-forwarded-proto': 'https', 'x-forwarded-host': 'shop.example', origin: 'https://shop.example' },
      );
    const cookie = made.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/^__Host-bareplate=/);
    expect(cookie).toContain('Secure');
    expect(cookie).not.toContain('Domain');
  });

  it('does not believe forwarded headers by default', async () => {
    const forwarded = {
      'x-forwarded-proto': 'https',
      'x-forwarded-host': 'evil.example',
      origin: 'https://evil.example',
    };
    const body = { ...ADMINISTRATOR, token: bench.setupToken ?? '' };
    expect(await bench.anonymous().callLoosely('setUp', { body }, forwarded)).toMatchObject({
      status: 403,
      body: { code: 'origin-foreign' },
    });
  });
});
