import type { z } from 'zod';
import type { Page } from '../domain/api/paging.ts';
import type {
  newPersonSchema,
  peopleQuerySchema,
  Person,
  personChangeSchema,
  setupBodySchema,
} from '../domain/api/people.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Ledger } from './ledger.ts';
import { DAY_MS, momentOf, nowOf } from './moments.ts';
import type { Clock, PasswordHasher, TokenMaker } from './people-ports.ts';

/** A one-time link works this long. */
const INVITATION_MS = 7 * DAY_MS;

export interface PeoplePorts {
  readonly ledger: Pick<Ledger, 'people' | 'sessions' | 'invitations' | 'transact'>;
  readonly passwords: PasswordHasher;
  readonly tokens: TokenMaker;
  readonly clock: Clock;
}

export interface Invited {
  readonly token: string;
  readonly expiresAt: string;
}

export interface People {
  list(query: z.output<typeof peopleQuerySchema>): Promise<Page<Person>>;
  read(id: string): Promise<Outcome<Person>>;
  invite(body: z.output<typeof newPersonSchema>): Promise<Outcome<{ person: Person; invited: Invited }>>;
  renewInvitation(id: string): Promise<Outcome<Invited>>;
  change(id: string, change: z.output<typeof personChangeSchema>): Promise<Outcome<Person>>;
  revokeSessions(id: string): Promise<Outcome<null>>;
  /** Whose link a token belongs to. */
  lookAtInvitation(token: string): Promise<Outcome<Person>>;
  /** Sets the password; the link is spent. */
  useInvitation(token: string, password: string): Promise<Outcome<Person>>;
  needsSetup(): Promise<boolean>;
  /** A fresh token of the one-time link for the first administrator; null when people exist already. */
  offerSetup(): Promise<string | null>;
  setUp(body: z.output<typeof setupBodySchema>): Promise<Outcome<Person>>;
}

export function keepPeople(ports: PeoplePorts): People {
  const { ledger, tokens } = ports;
  let setupTokenHash: string | null = null;
  const needsSetup = async (): Promise<boolean> => (await ledger.people.countAll()) === 0;
  const read = async (id: string): Promise<Outcome<Person>> => {
    const person = await ledger.people.find(id);
    return person === null ? absent('person', id) : success(person);
  };
  return {
    read,
    needsSetup,
    list: (query) => ledger.people.list(query),
    invite: (body) => invite(body, ports),
    async renewInvitation(id) {
      const reading = await read(id);
      return reading.ok ? success(await writeInvitation(id, ports)) : reading;
    },
    change: (id, change) => changePerson(id, change, ports),
    async revokeSessions(id) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      await ledger.sessions.removeAllOf(id, null);
      return success(null);
    },
    lookAtInvitation: (token) => lookAtInvitation(token, ports),
    useInvitation: (token, password) => useInvitation(token, password, ports),
    async offerSetup() {
      if (!(await needsSetup())) return null;
      const token = tokens.newToken();
      setupTokenHash = tokens.hashOf(token);
      return token;
    },
    async setUp(body) {
      if (setupTokenHash === null || tokens.hashOf(body.token) !== setupTokenHash) {
        return failure({ code: 'link-spent' });
      }
      const made = await makeFirstAdministrator(body, ports);
      if (made.ok) setupTokenHash = null;
      return made;
    },
  };
}

async function makeFirstAdministrator(
  { name, signInName, password }: z.output<typeof setupBodySchema>,
  { ledger, passwords, tokens, clock }: PeoplePorts,
): Promise<Outcome<Person>> {
  const passwordHash = await passwords.hash(password);
  const id = tokens.newId();
  return ledger.transact(async ({ people }) => {
    if ((await people.countAll()) > 0) return failure({ code: 'link-spent' });
    await people.add({ id, name, signInName, role: 'administrator', passwordHash, createdAt: nowOf(clock) });
    const person = await people.find(id);
    return person === null ? absent('person', id) : success(person);
  });
}

async function invite(
  { name, signInName, role }: z.output<typeof newPersonSchema>,
  ports: PeoplePorts,
): Promise<Outcome<{ person: Person; invited: Invited }>> {
  const { ledger, tokens, clock } = ports;
  const id = tokens.newId();
  const isNew = await ledger.people.add({ id, name, signInName, role, passwordHash: null, createdAt: nowOf(clock) });
  if (!isNew) return failure({ code: 'already-exists', noun: 'sign-in name', name: signInName });
  const invited = await writeInvitation(id, ports);
  const person = await ledger.people.find(id);
  return person === null ? absent('person', id) : success({ person, invited });
}

async function writeInvitation(personId: string, { ledger, tokens, clock }: PeoplePorts): Promise<Invited> {
  const [token, expiresAt] = [tokens.newToken(), momentOf(clock.now() + INVITATION_MS)];
  await ledger.invitations.replace({ personId, tokenHash: tokens.hashOf(token), expiresAt });
  return { token, expiresAt };
}

async function lookAtInvitation(token: string, { ledger, tokens, clock }: PeoplePorts): Promise<Outcome<Person>> {
  const invitation = await ledger.invitations.findByTokenHash(tokens.hashOf(token));
  if (invitation === null || invitation.expiresAt < nowOf(clock)) return failure({ code: 'link-spent' });
  const person = await ledger.people.find(invitation.personId);
  return person?.isActive === true ? success(person) : failure({ code: 'link-spent' });
}

async function useInvitation(token: string, password: string, ports: PeoplePorts): Promise<Outcome<Person>> {
  const passwordHash = await ports.passwords.hash(password);
  const looking = await lookAtInvitation(token, ports);
  if (!looking.ok) return looking;
  const { id } = looking.value;
  return ports.ledger.transact(async ({ people, sessions, invitations }) => {
    const again = await invitations.findByTokenHash(ports.tokens.hashOf(token));
    if (again === null) return failure({ code: 'link-spent' });
    await invitations.remove(id);
    await people.setPassword(id, passwordHash);
    await sessions.removeAllOf(id, null);
    return looking;
  });
}

/** At least one administrator stays able to sign in. */
async function changePerson(
  id: string,
  change: z.output<typeof personChangeSchema>,
  { ledger }: PeoplePorts,
): Promise<Outcome<Person>> {
  return ledger.transact(async ({ people, sessions, invitations }) => {
    const before = await people.find(id);
    if (before === null) return absent('person', id);
    const isLosing =
      before.role === 'administrator' && (change.isActive === false || (change.role ?? before.role) !== before.role);
    if (isLosing && before.isActive && before.hasPassword && (await people.countAdministrators()) <= 1) {
      return failure({ code: 'state-conflict', detail: `${before.name} is the last administrator` });
    }
    await people.change(id, definedOf(change));
    if (change.isActive === false) {
      await sessions.removeAllOf(id, null);
      await invitations.remove(id);
    }
    const after = await people.find(id);
    return after === null ? absent('person', id) : success(after);
  });
}

function definedOf({
  name,
  role,
  isActive,
}: z.output<typeof personChangeSchema>): Partial<Pick<Person, 'name' | 'role' | 'isActive'>> {
  return {
    ...(name === undefined ? {} : { name }),
    ...(role === undefined ? {} : { role }),
    ...(isActive === undefined ? {} : { isActive }),
  };
}
