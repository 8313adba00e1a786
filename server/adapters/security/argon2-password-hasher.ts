import { hash, verify } from '@node-rs/argon2';
import type { PasswordHasher } from '../../services/people-ports.ts';

/**
 * Cost of one password: 19 MiB, two passes, one lane, the least that is recommended for argon2id, since the server may be
 * a small machine and sign-in is throttled besides. Source: [OWASP-PASSWORD].
 */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1, outputLen: 32 } as const;

/** Passwords as argon2id in PHC text. Source: [RFC9106]. */
export function argon2PasswordHasher(): PasswordHasher {
  /** Verified against when nobody has the name, so that both answers take the same time. */
  const nobody = hash('nobody has this password', COST);
  return {
    hash: (password) => hash(password, COST),
    async verify(stored, password) {
      try {
        return await verify(stored, password);
      } catch {
        return false;
      }
    },
    async pretend(password) {
      await verify(await nobody, password);
    },
  };
}
