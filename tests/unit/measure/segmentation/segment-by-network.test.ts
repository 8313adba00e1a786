import { describe, expect, it } from 'vitest';
import { CLASS_CODE, failure, success } from '../../../../server/domain/index.ts';
import type { Outcome } from '../../../../server/domain/index.ts';
import { BLOCKED } from '../../../../server/measure/geometry/rectify-photo.ts';
import { wholeTile } from '../../../../server/measure/segmentation/class-network.ts';
import type { ClassNetwork, NetworkScale } from '../../../../server/measure/segmentation/class-network.ts';
import { networkSegmenter } from '../../../../server/measure/segmentation/segment-by-network.ts';
import type { Segmentation } from '../../../../server/measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../../server/measure/view-surface.ts';
import { plainView } from '../../../support/plain-view.ts';

const [WIDTH, HEIGHT] = [6, 4];
const viewWith = (stepMm: number | null): SurfaceView =>
  plainView({ width: WIDTH, height: HEIGHT, stepMm }, () => [50, 0, 0]);

/** A network that gives every pixel the same log odds, but for those that are listed. */
function fakeNetwork(common: readonly number[], others: Partial<Record<number, readonly number[]>> = {}): ClassNetwork {
  const planes = common.map((value, k) =>
    Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => others[i]?.[k] ?? value),
  );
  return {
    classify(_, __, take) {
      // In two halves, as a network does whose tiles do not hold the whole picture.
      const half = { planes, width: WIDTH / 2, height: HEIGHT, row: 0, step: 1, stride: WIDTH };
      take({ ...half, column: 0, first: 0 });
      take({ ...half, column: WIDTH / 2, first: WIDTH / 2 });
      return Promise.resolve(success('fake/1'));
    },
  };
}

async function segmented(network: ClassNetwork, view = viewWith(0.25)): Promise<Segmentation> {
  const outcome = await networkSegmenter(network).segment(view);
  if (!outcome.ok) throw new Error(outcome.fault.code);
  return outcome.value;
}

describe('the network segmenter', () => {
  it('names the network and takes the class of the highest odds', async () => {
    // Not measured, bare, stain, rust, scale, coating.
    const { segmenter, codes } = await segmented(
      fakeNetwork([-9, 3, 0, 0, 0, 0], { 7: [-9, 0, 0, 5, 0, 0], 8: [-9, 0, 0, 0, 0, 2] }),
    );
    expect(segmenter).toBe('fake/1');
    expect([codes.values[0], codes.values[7], codes.values[8]]).toEqual([
      CLASS_CODE.bare,
      CLASS_CODE.rust,
      CLASS_CODE.coating,
    ]);
  });

  it('turns log odds into probabilities: ln 3 against 0 is three to one', async () => {
    const log3 = Math.log(3);
    const { probabilities } = await segmented(fakeNetwork([-99, log3, 0, -99, -99, -99]));
    expect(probabilities.map((layer) => layer[5])).toEqual([191, 64, 0, 0, 0]);
  });

  it('does not change when all odds of a pixel are raised alike', async () => {
    const odds = [-2, 1.5, 0.3, 0.9, -1, -0.4];
    const plain = await segmented(fakeNetwork(odds));
    const raised = await segmented(fakeNetwork(odds.map((value) => value + 40)));
    expect(raised).toEqual(plain);
  });

  it('does not measure what is more likely no surface than all classes together', async () => {
    const { codes, blocked, probabilities } = await segmented(
      fakeNetwork([-9, 3, 0, 0, 0, 0], { 2: [4, 3, -9, -9, -9, -9], 3: [2.9, 3, -9, -9, -9, -9] }),
    );
    expect([codes.values[2], blocked.values[2]]).toEqual([0, BLOCKED.glare]);
    expect(probabilities.every((layer) => layer[2] === 0)).toBe(true);
    expect([codes.values[3], blocked.values[3]]).toEqual([CLASS_CODE.bare, 0]);
  });

  it('reads four interleaved tiles as it reads the whole picture', async () => {
    const planes = Array.from({ length: 6 }, (_, k) =>
      Float32Array.from({ length: WIDTH * HEIGHT }, (__, i) => 3 * Math.sin(12.9 * (31 * k + i))),
    );
    const whole: ClassNetwork = {
      classify(_, __, take) {
        take(wholeTile({ width: WIDTH, height: HEIGHT, planes }));
        return Promise.resolve(success('fake/1'));
      },
    };
    const interleaved: ClassNetwork = {
      classify(_, __, take) {
        const [width, height] = [WIDTH / 2, HEIGHT / 2];
        for (const [row, column] of [
          [0, 0],
          [0, 1],
          [1, 0],
          [1, 1],
        ]) {
          const every = planes.map((plane) =>
            Float32Array.from({ length: width * height }, (___, i) => {
              const y = row + 2 * Math.floor(i / width);
              return plane[y * WIDTH + column + 2 * (i % width)];
            }),
          );
          take({ planes: every, width, height, column, row, step: 2, first: 0, stride: width });
        }
        return Promise.resolve(success('fake/1'));
      },
    };
    const view = viewWith(0.25);
    view.zone.values[9] = 0;
    view.blocked.values[16] = BLOCKED.clipped;
    expect(await segmented(interleaved, view)).toEqual(await segmented(whole, view));
  });

  it('leaves alone what is out of the zone or blocked', async () => {
    const view = viewWith(0.25);
    view.zone.values[0] = 0;
    view.blocked.values[1] = BLOCKED.clipped;
    const { codes, blocked } = await segmented(fakeNetwork([-9, 3, 0, 0, 0, 0]), view);
    expect([...codes.values.subarray(0, 3)]).toEqual([0, 0, CLASS_CODE.bare]);
    expect([...blocked.values.subarray(0, 3)]).toEqual([0, BLOCKED.clipped, 0]);
  });

  it('doubts its shares the more the odds are even, and more without a card', async () => {
    const [sure, even] = [
      [-9, 6, 0, 0, 0, 0],
      [-9, 0.4, -9, 0.2, -9, -9],
    ];
    const sigmaOf = async (odds: readonly number[]): Promise<number> =>
      (await segmented(fakeNetwork(odds))).shareSigma.residue;
    expect(await sigmaOf(even)).toBeGreaterThan((await sigmaOf(sure)) + 0.1);
    const view = viewWith(0.25);
    const response = { logGain: [0, 0, 0] } as unknown as NonNullable<SurfaceView['normalisation']['response']>;
    const normalised: SurfaceView = { ...view, normalisation: { ...view.normalisation, response } };
    const known = await segmented(fakeNetwork(sure), normalised);
    expect(await sigmaOf(sure)).toBeGreaterThan(known.shareSigma.residue + 0.02);
  });

  it('hands on why the network cannot be asked', async () => {
    const fault = { code: 'model-missing', model: 'fake/1' } as const;
    const network: ClassNetwork = { classify: () => Promise.resolve(failure(fault)) };
    expect(await networkSegmenter(network).segment(viewWith(0.25))).toEqual({ ok: false, fault });
  });
});

describe('what the network is told about scale', () => {
  async function scaleTold(view: SurfaceView): Promise<NetworkScale | null> {
    let told: NetworkScale | null = null;
    const network: ClassNetwork = {
      classify(_, scale): Promise<Outcome<never>> {
        told = scale;
        return Promise.resolve(failure({ code: 'model-missing', model: 'none' }));
      },
    };
    await networkSegmenter(network).segment(view);
    return told;
  }

  it('is the step in millimetres with a card', async () => {
    expect(await scaleTold(viewWith(0.4))).toEqual({ stepMm: 0.4, isColourNormalised: false });
  });

  it('is what somebody stated, without one', async () => {
    const view = viewWith(null);
    const stated = { ...view, grid: { ...view.grid, step: 2, statedMmPerPixel: 0.15 } };
    expect((await scaleTold(stated))?.stepMm).toBeCloseTo(0.3, 12);
  });

  it('is two guesses where nobody tells it, and the far one speaks first', async () => {
    expect(await scaleTold(viewWith(null))).toEqual({ stepMm: 1, isColourNormalised: false });
  });
});
