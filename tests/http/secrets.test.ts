import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBench } from '../support/server-bench.ts';
import type { Bench } from '../support/server-bench.ts';

const PASSWORD = 'unguessable password 42';
const NEXT_PASSWORD = 'another password 43 xyz';
const WRONG_PASSWORD = 'wrong password 44 qwerty';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.stop());

it('keeps passwords, tokens and cookies out of log, answers and data folder', async () => {
  const secrets = [PASSWORD, NEXT_PASSWORD, WRONG_PASSWORD, bench.setupToken ?? ''];
  const anonymous = bench.anonymous();
  const made = await anonymous.call('setUp', {
    body: { token: bench.setupToken ?? '', name: 'A', signInName: 'admin', password: PASSWORD },
  });
  const cookie = (made.headers.get('set-cookie') ?? '').split(';')[0];
  secrets.push(cookie.split('=')[1]);
  await anonymous.callLoosely('signIn', { body: { signInName: 'admin', password: WRONG_PASSWORD } });
  const invited = await anonymous.call(
    'invitePerson',
    { body: { name: 'B', signInName: 'bee', role: 'operator' } },
    { cookie },
  );
  const token = invited.body.invitation.link.split('#')[1];
  secrets.push(token);
  await anonymous.callLoosely('lookAtInvitation', { body: { token } });
  await anonymous.call('useInvitation', { body: { token, password: NEXT_PASSWORD } });
  await anonymous.callLoosely('changePassword', { body: { current: WRONG_PASSWORD, next: 'x' } }, { cookie });
  await anonymous.call('changePassword', { body: { current: PASSWORD, next: NEXT_PASSWORD } }, { cookie });
  // A broken body with a secret in it, and a secret where an address is expected.
  await anonymous.callLoosely('signIn', { body: `{"password":"${PASSWORD}"` });
  await anonymous.fetch(`/api/${PASSWORD.replaceAll(' ', '-')}`);
  const answers = JSON.stringify((await anonymous.call('listPeople', {}, { cookie })).body);
  await anonymous.call('signOut', {}, { cookie });

  await expect.poll(() => bench.logLines.filter((line) => line.includes('"Request"')).length).toBeGreaterThan(9);
  const log = bench.logLines.join('');
  for (const secret of [...secrets, PASSWORD.replaceAll(' ', '-')]) {
    expect(secret.length).toBeGreaterThan(10);
    expect(log).not.toContain(secret);
    expect(answers).not.toContain(secret);
  }
  expect(answers).not.toContain('$argon2');
  for (const name of await readdir(bench.folder)) {
    if (!name.startsWith('ledger.db')) continue;
    const bytes = await readFile(join(bench.folder, name), 'latin1');
    for (const secret of secrets) expect(bytes).not.toContain(secret);
  }
});
