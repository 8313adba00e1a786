import { describe, expect, it } from 'vitest';
import { CLASS_CODE } from '../../../../server/domain/index.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { ByteMask } from '../../../../server/measure/raster/plane.ts';
import { doubtfulArea } from '../../../../server/measure/segmentation/cross-check.ts';
import { blockCodesByColour } from '../../../../server/measure/segmentation/segment-by-colour.ts';
import { plainView } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const [WIDTH, HEIGHT] = [121, 90];

function codesOf(code: number): ByteMask {
  const codes = byteMask(WIDTH, HEIGHT);
  codes.values.fill(code);
  return codes;
}
/** Steel that the colour classifier knows well. */
function steel(): ReturnType<typeof plainView> {
  const random = seededRandom(2);
  return plainView({ width: WIDTH, height: HEIGHT, stepMm: 0.25 }, () => [
    62 + 3 * seededNormal(random),
    seededNormal(random),
    3 + seededNormal(random),
  ]);
}
const share = ({ values }: ByteMask): number => values.reduce((sum, v) => sum + v, 0) / values.length;

describe('the cross-check by the colour classifier', () => {
  it('has no doubt where both see bare steel, or both no residue', () => {
    expect(share(doubtfulArea(blockCodesByColour(steel()), codesOf(CLASS_CODE.bare)))).toBeLessThan(0.02);
    expect(share(doubtfulArea(blockCodesByColour(steel()), codesOf(CLASS_CODE.stain)))).toBeLessThan(0.02);
  });

  it('doubts residue on what it sees as bare, of whatever class, up to the last column and row', () => {
    for (const name of ['rust', 'scale', 'coating'] as const) {
      const doubtful = doubtfulArea(blockCodesByColour(steel()), codesOf(CLASS_CODE[name]));
      expect(share(doubtful)).toBeGreaterThan(0.98);
      expect(doubtful.values[WIDTH * HEIGHT - 1]).toBe(1);
    }
  });

  it('says nothing about what was not measured', () => {
    const codes = codesOf(CLASS_CODE.rust);
    codes.values.fill(0, 0, 40 * WIDTH);
    const doubtful = doubtfulArea(blockCodesByColour(steel()), codes);
    expect(doubtful.values.subarray(0, 40 * WIDTH).every((v) => v === 0)).toBe(true);
  });
});
