import { describe, expect, it } from 'vitest';
import { onnxClassNetwork } from '../../../../server/adapters/segmenter/class-network.ts';
import { SURFACE_CLASSES } from '../../../../server/domain/index.ts';
import { wholeLogits } from '../../../../server/measure/segmentation/class-network.ts';
import type { ClassLogits } from '../../../../server/measure/segmentation/class-network.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const network = onnxClassNetwork(new URL('../../../../models/', import.meta.url));
const SCALE = { stepMm: 0.25, isColourNormalised: true };

async function logitsOf(width: number, height: number, seed = 1): Promise<ClassLogits> {
  const random = seededRandom(seed);
  const lab = labOf(width, height, () => [55 + 3 * seededNormal(random), 4 + seededNormal(random), 9]);
  const answer = await wholeLogits(network, lab, SCALE);
  if (!answer.ok) throw new Error(answer.fault.code);
  return answer.value.logits;
}

describe('the committed network', () => {
  it('answers every pixel with finite odds for "not measured" and each class', async () => {
    // Neither side is a multiple of the network's 32 pixels.
    const { width, height, planes } = await logitsOf(70, 45);
    expect([width, height, planes.length]).toEqual([70, 45, 1 + SURFACE_CLASSES.length]);
    for (const plane of planes) {
      expect(plane).toHaveLength(70 * 45);
      expect(plane.every(Number.isFinite)).toBe(true);
    }
    expect(planes.some((plane) => plane.some((value) => value !== 0))).toBe(true);
  });

  it('gives the same answer twice, and another to another picture', async () => {
    const [first, second, other] = [await logitsOf(64, 32), await logitsOf(64, 32), await logitsOf(64, 32, 9)];
    expect(second).toEqual(first);
    expect(other.planes[1]).not.toEqual(first.planes[1]);
  });

  it('lets its caller work while it is at the first tile, once, before anything is handed over', async () => {
    const events: string[] = [];
    const answer = await network.classify(
      labOf(1300, 700, () => [50, 0, 0]),
      SCALE,
      ({ column }) => events.push(column < 600 ? 'left' : 'right'),
      () => events.push('meanwhile'),
    );
    expect(answer.ok).toBe(true);
    // Two tiles, four interleaved parts each.
    expect(events).toEqual(['meanwhile', ...Array<string>(4).fill('left'), ...Array<string>(4).fill('right')]);
  });

  it('answers two callers at once as one after the other', async () => {
    const alone = [await logitsOf(1300, 64), await logitsOf(96, 64, 2)];
    expect(await Promise.all([logitsOf(1300, 64), logitsOf(96, 64, 2)])).toEqual(alone);
  });

  it('goes on after a caller that threw', async () => {
    const fallOver = (): never => {
      throw new Error('the caller fell over');
    };
    const picture = labOf(64, 32, () => [50, 0, 0]);
    await expect(network.classify(picture, SCALE, fallOver)).rejects.toThrow('the caller fell over');
    expect((await logitsOf(64, 32)).planes[1].every(Number.isFinite)).toBe(true);
  });

  it('takes a picture of a single pixel', async () => {
    expect((await logitsOf(1, 1)).planes.every((plane) => plane.length === 1 && Number.isFinite(plane[0]))).toBe(true);
  });
});

describe('a models folder without a model', () => {
  it('is said each time it is asked', async () => {
    const none = onnxClassNetwork(new URL('../../../../models/no-such-folder/', import.meta.url));
    for (let i = 0; i < 2; i++) {
      const answer = await none.classify(
        labOf(4, 4, () => [50, 0, 0]),
        SCALE,
        () => {
          throw new Error('nothing to take');
        },
      );
      expect(answer.ok || answer.fault).toEqual({ code: 'model-missing', model: 'registry.json' });
    }
  });
});
