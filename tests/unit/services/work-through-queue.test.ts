import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Bench, Client } from '../../support/server-bench.ts';
import { openBench } from '../../support/server-bench.ts';
import { addTeaselRound, followToEnd } from '../../support/teasel-round.ts';

let bench: Bench;
let client: Client;
beforeEach(async () => {
  bench = await openBench();
  client = await bench.as('operator');
});
afterEach(() => bench.stop());

const start = async (): Promise<string> => {
  const { round } = await addTeaselRound(client);
  return (await client.call('startAssessment', { params: { roundId: round.id }, body: {} })).body.id;
};
const stateOf = async (assessmentId: string): Promise<string> =>
  (await client.call('readAssessment', { params: { assessmentId } })).body.state;

describe('the worker', () => {
  it('tries again when an analysis throws, and the second attempt may succeed', async () => {
    bench.analyst.script.push(() => Promise.reject(new Error('out of memory for a moment')));
    const id = await start();
    await expect.poll(() => bench.logLines.some((line) => line.includes('out of memory'))).toBe(true);
    expect(await stateOf(id)).toBe('running');
    await followToEnd(client, `/api/assessments/${id}/progress`);
    expect(await stateOf(id)).toBe('done');
  }, 30_000);

  it('gives up after three attempts with a sentence, and goes on with the next', async () => {
    for (let i = 0; i < 3; i++) bench.analyst.script.push(() => Promise.reject(new Error('always')));
    const id = await start();
    // The waits between attempts are cut short by asking the queue itself.
    const { queue } = bench.adapters.ledger;
    const dueNow = queue.retry.bind(queue);
    queue.retry = (item) => dueNow(item, new Date(0).toISOString());
    await followToEnd(client, `/api/assessments/${id}/progress`);
    const read = await client.call('readAssessment', { params: { assessmentId: id } });
    expect(read.body).toMatchObject({ state: 'failed', fault: { code: 'analysis-broke-down' } });
    const next = await start();
    await followToEnd(client, `/api/assessments/${next}/progress`);
    expect(await stateOf(next)).toBe('done');
  }, 60_000);

  it('tells how many come first while an assessment waits', async () => {
    const gate: { open: () => void } = { open: () => undefined };
    const opened = new Promise<void>((resolve) => (gate.open = resolve));
    const { findings } = await import('../../support/scripted-analyst.ts');
    const { success } = await import('../../../server/domain/index.ts');
    bench.analyst.script.push(async () => {
      await opened;
      return success(await findings());
    });
    const [first, second, third] = [await start(), await start(), await start()];
    const progress = async (assessmentId: string): Promise<unknown> =>
      (await client.call('readAssessment', { params: { assessmentId } })).body.progress;
    expect(await progress(first)).toMatchObject({
      state: 'running',
      stage: 'looking for the card',
      fractionDone: 0.25,
    });
    expect(await progress(second)).toMatchObject({ state: 'queued', waitingBefore: 0 });
    expect(await progress(third)).toMatchObject({ state: 'queued', waitingBefore: 1 });
    gate.open();
    await followToEnd(client, `/api/assessments/${third}/progress`);
    expect(await stateOf(third)).toBe('done');
  });

  it('forgets an assessment whose job is removed while it runs', async () => {
    const { jobId, round } = await addTeaselRound(client);
    const administrator = await bench.as('administrator');
    const { findings } = await import('../../support/scripted-analyst.ts');
    const { success } = await import('../../../server/domain/index.ts');
    bench.analyst.script.push(async () => {
      await administrator.call('removeJob', { params: { jobId } });
      return success(await findings());
    });
    await client.call('startAssessment', { params: { roundId: round.id }, body: {} });
    await expect.poll(() => bench.adapters.ledger.queue.counts()).toEqual({ waiting: 0, running: 0 });
    expect(bench.logLines.some((line) => line.includes('broke down'))).toBe(false);
  });
});
