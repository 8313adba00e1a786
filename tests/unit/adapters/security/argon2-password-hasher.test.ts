import { describe, expect, it } from 'vitest';
import { argon2PasswordHasher } from '../../../../server/adapters/security/argon2-password-hasher.ts';

describe('password hashes', () => {
  const hasher = argon2PasswordHasher();

  it('are argon2id with the stated cost, salted anew each time', async () => {
    const [first, second] = [await hasher.hash('mill scale'), await hasher.hash('mill scale')];
    expect(first).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(first).not.toBe(second);
  });

  it('fit their own password alone', async () => {
    const stored = await hasher.hash('mill scale');
    expect(await hasher.verify(stored, 'mill scale')).toBe(true);
    for (const wrong of ['mill scal', 'mill scale ', 'Mill scale', '']) {
      expect(await hasher.verify(stored, wrong)).toBe(false);
    }
  });

  it('that are no hashes fit nothing', async () => {
    for (const stored of ['', 'none', '$argon2id$broken']) expect(await hasher.verify(stored, 'x')).toBe(false);
  });

  it('verify a hash that another implementation made', async () => {
    // Test vector of the argon2 reference implementation, test.c: argon2id, v=19, t=2, m=65536, p=1, "password", "somesalt".
    const stored = '$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc';
    expect(await hasher.verify(stored, 'password')).toBe(true);
  });
});
