import { describe, expect, it } from 'vitest';
import { limitAtOnce } from '../../../server/services/limit-at-once.ts';

describe('a limit of work at once', () => {
  it('never lets more run, lets the others wait in order, and is free again after a failure', async () => {
    const oneOfTwo = limitAtOnce(2);
    let running = 0;
    let most = 0;
    const order: number[] = [];
    const work = (i: number) => async (): Promise<number> => {
      most = Math.max(most, ++running);
      order.push(i);
      await new Promise((resolve) => setImmediate(resolve));
      running--;
      if (i % 3 === 0) throw new Error(`work ${i}`);
      return i;
    };
    const results = await Promise.allSettled([1, 2, 3, 4, 5, 6, 7].map((i) => oneOfTwo(work(i))));
    expect(most).toBe(2);
    expect(order).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(results.map((result) => result.status === 'fulfilled')).toEqual([
      true,
      true,
      false,
      true,
      true,
      false,
      true,
    ]);
    expect(await oneOfTwo(() => Promise.resolve('free'))).toBe('free');
  });
});
