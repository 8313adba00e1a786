import type { z } from 'zod';
import type { Page } from '../domain/api/paging.ts';
import type { peopleQuerySchema, Person } from '../domain/api/people.ts';
import type { Role } from '../domain/api/roles.ts';

/** Who acts, as far as services need to know. */
export interface Actor {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
}

interface PersonToAdd {
  readonly id: string;
  readonly name: string;
  readonly signInName: string;
  readonly role: Role;
  readonly passwordHash: string | null;
  readonly createdAt: string;
}

export interface PeopleStore {
  /** False when the id or the sign-in name is taken. */
  add(person: PersonToAdd): Promise<boolean>;
  find(id: string): Promise<Person | null>;
  findForSignIn(signInName: string): Promise<{ person: Person; passwordHash: string | null } | null>;
  passwordHashOf(id: string): Promise<string | null>;
  change(id: string, change: Partial<{ name: string; role: Role; isActive: boolean }>): Promise<boolean>;
  setPassword(id: string, passwordHash: string): Promise<void>;
  touch(id: string, at: string): Promise<void>;
  /** Active administrators who can sign in. */
  countAdministrators(): Promise<number>;
  countAll(): Promise<number>;
  list(query: z.output<typeof peopleQuerySchema>): Promise<Page<Person>>;
}

export interface StoredSession {
  readonly id: string;
  readonly personId: string;
  readonly device: string;
  readonly createdAt: string;
  readonly lastSeenAt: string;
  readonly expiresAt: string;
}

export interface SessionStore {
  add(session: StoredSession & { readonly tokenHash: string }): Promise<void>;
  findByTokenHash(tokenHash: string): Promise<{ session: StoredSession; person: Person } | null>;
  touch(id: string, at: string): Promise<void>;
  remove(id: string): Promise<void>;
  /** False when the person has no such session. */
  removeOwn(id: string, personId: string): Promise<boolean>;
  removeAllOf(personId: string, exceptId: string | null): Promise<void>;
  listOf(personId: string): Promise<readonly StoredSession[]>;
  removeExpired(now: string): Promise<void>;
}

/** One-time links; a person has one at most. */
export interface InvitationStore {
  replace(invitation: { personId: string; tokenHash: string; expiresAt: string }): Promise<void>;
  findByTokenHash(tokenHash: string): Promise<{ personId: string; expiresAt: string } | null>;
  remove(personId: string): Promise<void>;
}

/** Slow, salted password hashes. */
export interface PasswordHasher {
  hash(password: string): Promise<string>;
  verify(hash: string, password: string): Promise<boolean>;
  /** Takes as long as a verification that fails: nobody learns from the time whether a name exists. */
  pretend(password: string): Promise<void>;
}

export interface TokenMaker {
  /** A time-ordered UUID. */
  newId(): string;
  /** 32 random bytes, base64url: 43 characters. */
  newToken(): string;
  /** 8 characters for a printed label. */
  newLabelCode(): string;
  /** What is stored of a token. */
  hashOf(token: string): string;
}

export interface Clock {
  /** Milliseconds since 1970. */
  now(): number;
}
