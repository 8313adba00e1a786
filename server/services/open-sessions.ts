import type { z } from 'zod';
import type { Person, Session, signInBodySchema } from '../domain/api/people.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Ledger } from './ledger.ts';
import { DAY_MS, MINUTE_MS, momentOf } from './moments.ts';
import type { Clock, PasswordHasher, StoredSession, TokenMaker } from './people-ports.ts';
import type { AttemptKey, AttemptThrottle } from './throttle-attempts.ts';

/** A session ends this long after sign-in, and earlier when it is not used (shop phones lie in lockers for a weekend). */
const LONGEST_SESSION_MS = 30 * DAY_MS;
const LONGEST_IDLE_MS = 7 * DAY_MS;
/** How exactly the last use is kept: a write for every request would wear the disk. */
const TOUCH_EVERY_MS = MINUTE_MS;

export interface SessionPorts {
  readonly ledger: Pick<Ledger, 'people' | 'sessions' | 'invitations' | 'transact'>;
  readonly passwords: PasswordHasher;
  readonly tokens: TokenMaker;
  readonly clock: Clock;
  readonly throttle: AttemptThrottle;
}

/** Where somebody knocks from. */
export interface Visitor {
  /** Network address. */
  readonly address: string;
  /** The browser's own words about itself. */
  readonly device: string;
}
export interface OpenedSession {
  readonly person: Person;
  /** For the cookie; only its hash is kept. */
  readonly token: string;
  readonly expiresAtMs: number;
}
export interface KnownSession {
  readonly person: Person;
  readonly sessionId: string;
}

export interface Sessions {
  /** The session of a token; null when there is none, it ended, or the person was switched off. */
  recognise(token: string): Promise<KnownSession | null>;
  signIn(body: z.output<typeof signInBodySchema>, visitor: Visitor): Promise<Outcome<OpenedSession>>;
  /** Opens a session for a person who has just proven who they are. */
  open(personId: string, visitor: Visitor): Promise<Outcome<OpenedSession>>;
  end(sessionId: string): Promise<void>;
  list(known: KnownSession): Promise<Session[]>;
  revoke(sessionId: string, known: KnownSession): Promise<Outcome<null>>;
  changePassword(body: { current: string; next: string }, known: KnownSession): Promise<Outcome<null>>;
  /** Whether a password is the person's own: for acts that need a second proof. */
  confirmPassword(personId: string, password: string): Promise<Outcome<null>>;
  removeExpired(): Promise<void>;
}

export function openSessions(ports: SessionPorts): Sessions {
  const { ledger, clock } = ports;
  return {
    recognise: (token) => recognise(token, ports),
    signIn: (body, visitor) => signIn(body, visitor, ports),
    open: (personId, visitor) => open(personId, visitor, ports),
    end: (sessionId) => ledger.sessions.remove(sessionId),
    async list(known) {
      const sessions = await ledger.sessions.listOf(known.person.id);
      return sessions.map((session) => describe(session, known.sessionId));
    },
    async revoke(sessionId, known) {
      const isRemoved = await ledger.sessions.removeOwn(sessionId, known.person.id);
      return isRemoved ? success(null) : absent('session', sessionId);
    },
    async changePassword({ current, next }, known) {
      const confirming = await confirmPassword(known.person.id, current, ports);
      if (!confirming.ok) return confirming;
      const passwordHash = await ports.passwords.hash(next);
      await ledger.transact(async (tables) => {
        await tables.people.setPassword(known.person.id, passwordHash);
        await tables.sessions.removeAllOf(known.person.id, known.sessionId);
      });
      return success(null);
    },
    confirmPassword: (personId, password) => confirmPassword(personId, password, ports),
    removeExpired: () => ledger.sessions.removeExpired(momentOf(clock.now())),
  };
}

const describe = (session: StoredSession, currentId: string): Session => ({
  id: session.id,
  device: session.device,
  createdAt: session.createdAt,
  lastSeenAt: session.lastSeenAt,
  expiresAt: session.expiresAt,
  isCurrent: session.id === currentId,
});

async function recognise(token: string, { ledger, tokens, clock }: SessionPorts): Promise<KnownSession | null> {
  const found = await ledger.sessions.findByTokenHash(tokens.hashOf(token));
  if (found === null || !found.person.isActive) return null;
  const { session, person } = found;
  const now = clock.now();
  const lastSeen = Date.parse(session.lastSeenAt);
  if (now > Date.parse(session.expiresAt) || now - lastSeen > LONGEST_IDLE_MS) return null;
  if (now - lastSeen > TOUCH_EVERY_MS) {
    await ledger.sessions.touch(session.id, momentOf(now));
    await ledger.people.touch(person.id, momentOf(now));
  }
  return { person, sessionId: session.id };
}

async function signIn(
  { signInName, password }: z.output<typeof signInBodySchema>,
  visitor: Visitor,
  ports: SessionPorts,
): Promise<Outcome<OpenedSession>> {
  const name = signInName.trim().toLowerCase();
  const keys: AttemptKey[] = [
    { key: `${name} from ${visitor.address}`, free: 5 },
    { key: `from ${visitor.address}`, free: 20 },
    { key: name, free: 100 },
  ];
  const attempt = await ports.throttle.attempt(keys, ports.clock, () => personWith(name, password, ports));
  if (!attempt.ok) return attempt;
  return attempt.value === null ? failure({ code: 'sign-in-refused' }) : open(attempt.value, visitor, ports);
}

/** Id of the person whose name and password these are. A name that is not there takes as long as one that is. */
async function personWith(name: string, password: string, { ledger, passwords }: SessionPorts): Promise<string | null> {
  const found = await ledger.people.findForSignIn(name);
  const stored = found?.person.isActive === true ? found.passwordHash : null;
  if (found === null || stored === null) {
    await passwords.pretend(password);
    return null;
  }
  return (await passwords.verify(stored, password)) ? found.person.id : null;
}

async function open(
  personId: string,
  visitor: Visitor,
  { ledger, tokens, clock }: SessionPorts,
): Promise<Outcome<OpenedSession>> {
  const now = clock.now();
  const [token, expiresAtMs] = [tokens.newToken(), now + LONGEST_SESSION_MS];
  await ledger.sessions.add({
    id: tokens.newId(),
    tokenHash: tokens.hashOf(token),
    personId,
    device: visitor.device.slice(0, 200),
    createdAt: momentOf(now),
    lastSeenAt: momentOf(now),
    expiresAt: momentOf(expiresAtMs),
  });
  await ledger.people.touch(personId, momentOf(now));
  const person = await ledger.people.find(personId);
  return person === null ? absent('person', personId) : success({ person, token, expiresAtMs });
}

async function confirmPassword(
  personId: string,
  password: string,
  { ledger, passwords, throttle, clock }: SessionPorts,
): Promise<Outcome<null>> {
  const keys = [{ key: `confirm ${personId}`, free: 5 }];
  const attempt = await throttle.attempt(keys, clock, async () => {
    const stored = await ledger.people.passwordHashOf(personId);
    return stored !== null && (await passwords.verify(stored, password)) ? personId : null;
  });
  if (!attempt.ok) return attempt;
  return attempt.value === null ? failure({ code: 'password-wrong' }) : success(null);
}
