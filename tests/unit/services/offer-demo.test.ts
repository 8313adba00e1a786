import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openBench } from '../../support/server-bench.ts';

it('the demo job is there on the first start, marked as invented, and once removed it stays away', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'bareplate-demo-'));
  const environment = { BAREPLATE_DEMO: 'offer' };
  const bench = await openBench({ folder, environment });
  const administrator = await bench.as('administrator');
  await expect.poll(async () => (await administrator.call('readOverview')).body.zones, { timeout: 20_000 }).toBe(2);
  const jobs = await administrator.call('listJobs');
  expect(jobs.body.items).toMatchObject([{ isInvented: true, zoneCount: 2 }]);
  const zones = await administrator.call('listZones', { query: { q: 'stern' } });
  const [zone] = zones.body.items;
  expect(zone).toMatchObject({ isInvented: true, targetGrade: 'Sa 2 1/2', roundCount: 1 });
  const rounds = await administrator.call('listRounds', { params: { zoneId: zone.id } });
  expect(rounds.body.items[0]).toMatchObject({
    before: { photo: { widthPx: 2400, heightPx: 1800 } },
    after: { photo: { fileName: 'stern-plate-after.jpg' } },
  });
  await expect.poll(async () => (await administrator.call('readOverview')).body.waiting).toBe(0);
  await administrator.call('removeJob', { params: { jobId: jobs.body.items[0].id } });
  await bench.stop();

  const second = await openBench({ folder, environment });
  // Asked once: the first asking would set the mark where it is not kept.
  expect(await second.adapters.ledger.shop.markOnce('demo-offered')).toBe(false);
  expect((await (await second.as('operator')).call('listJobs')).body.items).toEqual([]);
  await second.stop();
  await rm(folder, { recursive: true, force: true });
}, 60_000);
