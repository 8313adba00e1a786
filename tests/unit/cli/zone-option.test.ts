import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Outcome, Zone } from '../../../server/domain/index.ts';
import { readZone } from '../../../server/cli/zone-option.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-zone-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const placed = (outcome: Outcome<Zone | null>): [string, number[][]] | null => {
  if (!outcome.ok) throw new Error(outcome.fault.code);
  return outcome.value === null ? null : [outcome.value.space, outcome.value.polygon.map((p) => [...p])];
};

describe('a zone on the command line', () => {
  it('is none when it is not given', async () => {
    expect(placed(await readZone(undefined))).toBeNull();
  });

  it('of two points is the upright rectangle between them, in whatever order they come', async () => {
    const rectangle = [
      [10, 20],
      [110, 20],
      [110, 70],
      [10, 70],
    ];
    expect(placed(await readZone('mm:10,20,110,70'))).toEqual(['surface', rectangle]);
    expect(placed(await readZone('mm:110,70,10,20'))).toEqual(['surface', rectangle]);
    expect(placed(await readZone('px: 10 , 70 , 110 , 20 '))).toEqual(['photo', rectangle]);
  });

  it('of more points is a polygon in their order', async () => {
    expect(placed(await readZone('px:0,0,5,0,3,-4.5'))).toEqual([
      'photo',
      [
        [0, 0],
        [5, 0],
        [3, -4.5],
      ],
    ]);
  });

  it('comes from a file in either unit', async () => {
    for (const [key, space] of [
      ['polygonMm', 'surface'],
      ['polygonPx', 'photo'],
    ]) {
      const path = join(folder, `${key}.json`);
      const points = [
        [0, 0],
        [9.5, 0],
        [4, 7],
      ];
      await writeFile(path, JSON.stringify({ [key]: points }));
      expect(placed(await readZone(`@${path}`))).toEqual([space, points]);
    }
  });

  it('from a folder or from nowhere is not found', async () => {
    for (const path of [folder, join(folder, 'none.json')]) {
      const outcome = await readZone(`@${path}`);
      expect(outcome.ok || outcome.fault).toEqual({ code: 'file-not-found', role: 'zone file', path });
    }
  });
});
