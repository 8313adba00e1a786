import { afterAll, beforeAll, expect, it } from 'vitest';
import { fillLedger } from '../support/fill-ledger.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench, Client } from '../support/server-bench.ts';
import { processorClock, timeLists } from '../support/time-lists.ts';

/** Rows of the small and the large ledger; a page of either must cost about the same. */
const FEW = 1000;
const MANY = 100_000;
/** Processor time of server and caller together; tests/load/list-speed.ts measures by the clock on the wall. */
const MOST_P95_MS = 50;
/** What is flat may still differ by this much, or by a few milliseconds, from one minute to the next. */
const MOST_GROWTH = 3;
const LEAST_TOLD_MS = 10;

let bench: Bench;
let client: Client;
beforeAll(async () => {
  bench = await openBench();
  client = await bench.as('inspector');
});
afterAll(() => bench.stop());

it(`answers a page over ${MANY} assessments in ${MOST_P95_MS} ms of processor time at p95, about as fast as over ${FEW}`, async () => {
  await fillLedger(bench.folder, FEW);
  await timeLists(client, processorClock);
  const few = await timeLists(client, processorClock);
  await fillLedger(bench.folder, MANY - FEW);
  const many = await timeLists(client, processorClock);
  for (const [name, { p95Ms, medianMs }] of Object.entries(many)) {
    expect(p95Ms, name).toBeLessThanOrEqual(MOST_P95_MS);
    expect(medianMs, name).toBeLessThanOrEqual(Math.max(MOST_GROWTH * few[name].medianMs, LEAST_TOLD_MS));
  }
}, 120_000);
