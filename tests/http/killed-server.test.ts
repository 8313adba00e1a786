import { expect, it } from 'vitest';
import { killServerRepeatedly } from '../support/kill-server.ts';

/** The script tests/load/kill-thirty.ts does the same thirty times. */
const KILLS = 3;

it('loses nothing it has acknowledged and finishes what was interrupted when it is killed', async () => {
  const report = await killServerRepeatedly(KILLS, 1907);
  expect(report.complaints).toEqual([]);
  expect(report.roundsAcknowledged).toBeGreaterThan(KILLS);
  expect(report.photosAcknowledged).toBeGreaterThan(0);
}, 300_000);
