import { expect, it, vi } from 'vitest';
import { startOwnServer } from '../support/own-server.ts';

const STARTS_WITHIN_MS = 60_000;

it('ends in order while an analysis runs, and takes the analysis up again at the next start', async () => {
  const environment = { BAREPLATE_SEGMENTER: 'network', BAREPLATE_WORKERS: '1' };
  const server = await startOwnServer(environment);
  /** In the middle of the network's native code: the place where a thread must not be ended. */
  const atTheNetwork = async (): Promise<string> => {
    const { items } = (await server.call('GET', '/api/assessments?state=running')) as { items: { id: string }[] };
    const [{ id }] = items;
    const { progress } = (await server.call('GET', `/api/assessments/${id}`)) as { progress: { stage: string | null } };
    if (progress.stage?.startsWith('telling') !== true) throw new Error('Expected the demo job to be told apart');
    return id;
  };
  const id = await vi.waitFor(atTheNetwork, { timeout: STARTS_WITHIN_MS, interval: 50 });
  expect(await server.end()).toBe(0);

  const again = await startOwnServer(environment, server);
  const { state } = await again.call('GET', `/api/assessments/${id}`);
  expect(['queued', 'running', 'done']).toContain(state);
  await again.stop();
}, 120_000);
