import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBench } from '../support/server-bench.ts';
import type { Bench } from '../support/server-bench.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench({ environment: { BAREPLATE_TRUSTED_PROXIES: '1' } });
});
afterAll(() => bench.stop());

describe('whoever watches the server', () => {
  it('learns that it lives and can work', async () => {
    const answers = [await bench.anonymous().fetch('/healthz'), await bench.anonymous().fetch('/readyz')];
    for (const answer of answers) {
      expect(answer.status).toBe(200);
      expect(await answer.json()).toEqual({ status: 'ok', because: null });
    }
  });

  it('reads numbers by endpoint on the machine itself, and nowhere else', async () => {
    await (await bench.as('operator')).call('listJobs');
    const near = await bench.anonymous().fetch('/metrics');
    expect(await near.text()).toMatch(/bareplate_request_seconds_count\{endpoint="listJobs",status="200"\} 1/);
    const far = await bench.anonymous().fetch('/metrics', { headers: { 'x-forwarded-for': '203.0.113.9' } });
    expect(await far.text()).not.toContain('bareplate_request_seconds');
  });

  it('finds the published document', async () => {
    const answer = await bench.anonymous().fetch('/api/openapi.json');
    expect(await answer.json()).toMatchObject({ openapi: '3.1.0', info: { title: 'Bareplate' } });
  });
});
