import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { throttleAttempts } from '../../../server/services/throttle-attempts.ts';

const KEYS = [{ key: 'wil', free: 5 }];
const MINUTE = 60_000;

describe('the throttle of attempts', () => {
  it('lets the free attempts pass and doubles the wait after them, up to a quarter of an hour', () => {
    const throttle = throttleAttempts();
    for (let i = 0; i < 4; i++) throttle.fail(KEYS, 0);
    expect(throttle.waitS(KEYS, 0)).toBe(0);
    const waits: number[] = [];
    for (let i = 0; i < 8; i++) {
      throttle.fail(KEYS, 0);
      waits.push(throttle.waitS(KEYS, 0));
    }
    expect(waits).toEqual([15, 30, 60, 120, 240, 480, 900, 900]);
  });

  it('opens when the wait is over and not before', () => {
    const throttle = throttleAttempts();
    for (let i = 0; i < 5; i++) throttle.fail(KEYS, 0);
    expect(throttle.waitS(KEYS, 14_999)).toBe(1);
    expect(throttle.waitS(KEYS, 15_000)).toBe(0);
  });

  it('forgets a key after a success and after an hour, and keeps other keys apart', () => {
    const throttle = throttleAttempts();
    const other = [{ key: 'ove', free: 5 }];
    for (let i = 0; i < 9; i++) throttle.fail(KEYS, 0);
    expect(throttle.waitS(other, 0)).toBe(0);
    throttle.succeed(KEYS);
    expect(throttle.waitS(KEYS, 0)).toBe(0);
    for (let i = 0; i < 9; i++) throttle.fail(KEYS, 0);
    throttle.fail(other, 61 * MINUTE);
    throttle.fail(KEYS, 61 * MINUTE);
    expect(throttle.waitS(KEYS, 61 * MINUTE)).toBe(0);
  });

  it('waits as long as the strictest of several keys asks', () => {
    const throttle = throttleAttempts();
    const both = [...KEYS, { key: 'address', free: 2 }];
    throttle.fail(both, 0);
    throttle.fail(both, 0);
    expect(throttle.waitS(both, 0)).toBe(15);
    expect(throttle.waitS(KEYS, 0)).toBe(0);
  });

  it('does not grow without end when every attempt has another key', () => {
    const throttle = throttleAttempts();
    for (let i = 0; i < 10_100; i++) throttle.fail([{ key: `key ${i}`, free: 0 }], 0);
    expect(throttle.waitS([{ key: 'key 10099', free: 0 }], 0)).toBe(30);
    expect(throttle.waitS([{ key: 'key 0', free: 0 }], 0)).toBe(0);
  });

  const clock = { now: () => 0 };

  it('lets one person in on many phones in the same moment, a few at a time', async () => {
    const throttle = throttleAttempts();
    let [atOnce, most] = [0, 0];
    const check = async (): Promise<string> => {
      most = Math.max(most, ++atOnce);
      await pause(1);
      atOnce--;
      return 'wil';
    };
    const answers = await Promise.all(Array.from({ length: 20 }, () => throttle.attempt(KEYS, clock, check)));
    expect(answers).toEqual(answers.map(() => ({ ok: true, value: 'wil' })));
    expect(most).toBe(5);
  });

  it('checks no more guesses at once than it would one after another', async () => {
    const throttle = throttleAttempts();
    let checked = 0;
    const check = async (): Promise<null> => {
      checked++;
      await pause(1);
      return null;
    };
    const answers = await Promise.all(Array.from({ length: 20 }, () => throttle.attempt(KEYS, clock, check)));
    expect(checked).toBe(5);
    expect(answers.filter(({ ok }) => !ok)).toHaveLength(15);
    const later = { now: () => 16_000 };
    await Promise.all(Array.from({ length: 20 }, () => throttle.attempt(KEYS, later, check)));
    expect(checked).toBe(6);
  });

  it('goes on when a check breaks down, and counts that as nothing', async () => {
    const throttle = throttleAttempts();
    const breaks = (): Promise<null> => Promise.reject(new Error('no memory'));
    const broken = await Promise.allSettled(Array.from({ length: 9 }, () => throttle.attempt(KEYS, clock, breaks)));
    expect(new Set(broken.map(({ status }) => status))).toEqual(new Set(['rejected']));
    expect(throttle.waitS(KEYS, 0)).toBe(0);
  });
});
