import { MINUTE_MS, SECOND_MS } from './moments.ts';

export interface AttemptThrottle {
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
  return {
    waitS(keys, nowMs) {
      const opens = keys.map(({ key }) => tallies.get(key)?.openAtMs ?? 0);
      return Math.max(0, Math.ceil((Math.max(0, ...opens) - nowMs) / SECOND_MS));
    },
    fail(keys, nowMs) {
      forget(tallies, nowMs);
      for (const { key, free } of keys) {
        const failures = (tallies.get(key)?.failures ?? 0) + 1;
        const beyond = failures - free;
        const waitMs = beyond < 0 ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** beyond);
        tallies.set(key, { failures, lastMs: nowMs, openAtMs: nowMs + waitMs });
      }
    },
    succeed(keys) {
      for (const { key } of keys) tallies.delete(key);
    },
  };
}

function forget(tallies: Map<string, Tally>, nowMs: number): void {
  for (const [key, tally] of tallies) {
    const isOld = nowMs - tally.lastMs > FORGOTTEN_AFTER_MS;
    if (isOld || tallies.size > MOST_KEYS) tallies.delete(key);
  }
}
