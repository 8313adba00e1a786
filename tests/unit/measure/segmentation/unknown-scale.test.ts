import { describe, expect, it } from 'vitest';
import { failure, success } from '../../../../server/domain/index.ts';
import { wholeTile } from '../../../../server/measure/segmentation/class-network.ts';
import type { ClassLogits, ClassNetwork } from '../../../../server/measure/segmentation/class-network.ts';
import { classifyAtUnknownScale } from '../../../../server/measure/segmentation/unknown-scale.ts';
import { labOf } from '../../../support/plain-view.ts';

/** Probabilities of "not measured" and the five classes at a place, by how far away the picture is taken to be. */
type Told = (stepMm: number, column: number, row: number) => readonly number[];

function networkThatSays(told: Told, seen: [width: number, height: number, stepMm: number][] = []): ClassNetwork {
  return {
    classify({ L: { width, height } }, { stepMm }, take) {
      seen.push([width, height, stepMm]);
      const planes = Array.from({ length: 6 }, (_, k) =>
        Float32Array.from(
          { length: width * height },
          (__, i) =>
            // Log odds up to a constant.
            5 + Math.log(told(stepMm, i % width, Math.floor(i / width))[k]),
        ),
      );
      take(wholeTile({ width, height, planes }));
      return Promise.resolve(success('fake/1'));
    },
  };
}
async function logitsOf(network: ClassNetwork, width: number, height: number): Promise<ClassLogits> {
  const outcome = await classifyAtUnknownScale(
    network,
    labOf(width, height, () => [50, 0, 0]),
  );
  if (!outcome.ok) throw new Error(outcome.fault.code);
  return outcome.value.logits;
}

const FAR = [0.1, 0.2, 0.05, 0.6, 0.03, 0.02];
const NEAR = [0.1, 0.5, 0.1, 0.2, 0.05, 0.05];

describe('classes at an unknown scale', () => {
  it('take three quarters of rust from far and the rest from near, in its proportions', async () => {
    const { planes } = await logitsOf(
      networkThatSays((stepMm) => (stepMm === 1 ? FAR : NEAR)),
      9,
      7,
    );
    // Rust 0.75 x 0.6 + 0.25 x 0.2 = 0.5; the others share 0.5 as they shared 0.8 near: times 0.625.
    [0.0625, 0.3125, 0.0625, 0.5, 0.03125, 0.03125].forEach((probability, k) => {
      for (const value of planes[k]) expect(Math.exp(value)).toBeCloseTo(probability, 5);
    });
  });

  it('do not lean to one side: the far reading is that of the picture and its mirror image', async () => {
    // A network that sees more rust to the right of any picture.
    const leaning: Told = (stepMm, column) => {
      const rust = stepMm === 1 ? 0.1 + 0.08 * column : 0.2;
      return [0.1, 0.8 - rust, 0.03, rust, 0.04, 0.03];
    };
    const { planes } = await logitsOf(networkThatSays(leaning), 9, 4);
    for (const value of planes[3]) expect(value).toBeCloseTo(planes[3][0], 5);
  });

  it('are looked at coarsely and come back at full size', async () => {
    const seen: [number, number, number][] = [];
    const { width, height, planes } = await logitsOf(
      networkThatSays((_, column) => (column < 128 ? FAR : NEAR), seen),
      1024,
      301,
    );
    expect(seen.map(([w]) => w)).toEqual([512, 512, 512]);
    expect([width, height]).toEqual([1024, 301]);
    for (const plane of planes) expect(plane).toHaveLength(1024 * 301);
    // The border between the two colours stays where it was, at twice column 128.
    expect(planes[1][1024 * 100 + 900]).toBeGreaterThan(planes[1][1024 * 100 + 200]);
  });

  it('are not claimed when the network cannot be asked', async () => {
    const fault = { code: 'model-missing', model: 'none' } as const;
    const mute: ClassNetwork = { classify: () => Promise.resolve(failure(fault)) };
    const lab = labOf(4, 4, () => [50, 0, 0]);
    expect(await classifyAtUnknownScale(mute, lab)).toEqual({ ok: false, fault });
  });
});
