import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { MINUTE_MS, SECOND_MS } from './moments.ts';
import type { Clock } from './people-ports.ts';

export interface AttemptThrottle {
  /**
   * Makes an attempt and keeps count of it: null from `check` is a failure. Attempts at once count as if each had failed, so
   * that guesses do not slip through together; one too many waits for the others' ends and is not refused: one person may
   * sign in on many phones in the same moment.
   */
  attempt<T>(keys: readonly AttemptKey[], clock: Clock, check: () => Promise<T | null>): Promise<Outcome<T | null>>;
  /** Seconds to wait before another attempt; 0 when it may be made now. */
  waitS(keys: readonly AttemptKey[], nowMs: number): number;
  fail(keys: readonly AttemptKey[], nowMs: number): void;
  succeed(keys: readonly AttemptKey[]): void;
}

export interface AttemptKey {
  readonly key: string;
  /** Failures that cost nothing. */
  readonly free: number;
}

const FIRST_WAIT_MS = 15 * SECOND_MS;
const LONGEST_WAIT_MS = 15 * MINUTE_MS;
/** A key without failures for this long starts afresh. */
const FORGOTTEN_AFTER_MS = 60 * MINUTE_MS;
const MOST_KEYS = 10_000;

interface Tally {
  failures: number;
  lastMs: number;
  openAtMs: number;
}

/**
 * Slows guessing down: after the free failures of a key each further one doubles the wait, from 15 s to 15 min
 * (common practice). Kept in memory: a restart needs somebody at the machine.
 */
export function throttleAttempts(): AttemptThrottle {
  const tallies = new Map<string, Tally>();
  const underWay = new Map<string, Set<Promise<unknown>>>();
  const waitS = (keys: readonly AttemptKey[], nowMs: number): number => {
    const opens = keys.map(({ key }) => tallies.get(key)?.openAtMs ?? 0);
    return Math.max(0, Math.ceil((Math.max(0, ...opens) - nowMs) / SECOND_MS));
  };
  const fail = (keys: readonly AttemptKey[], nowMs: number): void => {
    forget(tallies, nowMs);
    for (const { key, free } of keys) {
      const failures = (tallies.get(key)?.failures ?? 0) + 1;
      const beyond = failures - free;
      const waitMs = beyond < 0 ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** beyond);
      tallies.set(key, { failures, lastMs: nowMs, openAtMs: nowMs + waitMs });
    }
  };
  const succeed = (keys: readonly AttemptKey[]): void => {
    for (const { key } of keys) tallies.delete(key);
  };
  /** Attempts under way that must end first, should each of them fail. */
  const crowd = (keys: readonly AttemptKey[]): Set<Promise<unknown>> | undefined =>
    keys
      .filter(({ key, free }) => (tallies.get(key)?.failures ?? 0) + (underWay.get(key)?.size ?? 0) >= free)
      .map(({ key }) => underWay.get(key))
      .find((others) => others !== undefined);
  return {
    waitS,
    fail,
    succeed,
    async attempt(keys, clock, check) {
      for (let others = crowd(keys); others !== undefined; others = crowd(keys)) await firstToEnd(others);
      const seconds = waitS(keys, clock.now());
      if (seconds > 0) return failure({ code: 'sign-in-throttled', waitS: seconds });
      const counted = check().then((found) => {
        if (found === null) fail(keys, clock.now());
        else succeed(keys);
        return found;
      });
      enter(underWay, keys, counted);
      try {
        return success(await counted);
      } finally {
        leave(underWay, keys, counted);
      }
    },
  };
}

/** However it ends: what breaks one attempt is not the others' matter. */
const firstToEnd = (attempts: Iterable<Promise<unknown>>): Promise<unknown> =>
  Promise.race([...attempts].map((attempt) => attempt.catch(() => null)));

function enter(
  underWay: Map<string, Set<Promise<unknown>>>,
  keys: readonly AttemptKey[],
  attempt: Promise<unknown>,
): void {
  for (const { key } of keys) underWay.set(key, (underWay.get(key) ?? new Set()).add(attempt));
}

function leave(
  underWay: Map<string, Set<Promise<unknown>>>,
  keys: readonly AttemptKey[],
  attempt: Promise<unknown>,
): void {
  for (const { key } of keys) {
    const others = underWay.get(key);
    others?.delete(attempt);
    if (others?.size === 0) underWay.delete(key);
  }
}

function forget(tallies: Map<string, Tally>, nowMs: number): void {
  for (const [key, tally] of tallies) {
    const isOld = nowMs - tally.lastMs > FORGOTTEN_AFTER_MS;
    if (isOld || tallies.size > MOST_KEYS) tallies.delete(key);
  }
}
