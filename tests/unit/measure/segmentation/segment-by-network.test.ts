import { describe, expect, it } from 'vitest';
import { CLASS_CODE, failure, success } from '../../../../server/domain/index.ts';
import type { Outcome } from '../../../../server/domain/index.ts';
import { BLOCKED } from '../../../../server/measure/geometry/rectify-photo.ts';
import { wholeTile } from '../../../../server/measure/segmentation/class-network.ts';
import type { ClassNetwork, NetworkScale } from '../../../../server/measure/segmentation/class-network.ts';
import { networkSegmenter } from '../../../../server/measure/segmentation/segment-by-network.ts';
import { codesOfKnownColour } from '../../../../server/measure/segmentation/segmentation.ts';
import type { Segmentation } from '../../../../server/measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../../server/measure/view-surface.ts';
import { plainView } from '../../../support/plain-view.ts';

const [WIDTH, HEIGHT] = [6, 4];
const viewWith = (stepMm: number | null): SurfaceView =>
  plainView({ width: WIDTH, height: HEIGHT, stepMm }, () => [50, 0, 0]);

/** The same in colours that a card normalised. */
function normalised(view: SurfaceView): SurfaceView {
  const response = { logGain: [0, 0, 0] } as unknown as NonNullable<SurfaceView['normalisation']['response']>;
  return { ...view, normalisation: { ...view.normalisation, response } };
}

/** Place of the odds of lack of dwell, after those of the classes. */
const UNDER_DWELL = 6;

/** A network that gives every pixel the same log odds, but for those that are listed. */
function fakeNetwork(common: readonly number[], others: Partial<Record<number, readonly number[]>> = {}): ClassNetwork {
  const planes = common.map((value, k) =>
    Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => others[i]?.[k] ?? value),
  );
  return {
    classify(_, __, take) {
      // In two halves, as a network does whose tiles do not hold the whole picture.
      const half = {
        planes,
        width: WIDTH / 2,
        height: HEIGHT,
        row: 0,
        step: 1,
        stride: WIDTH,
        underDwell: planes.at(UNDER_DWELL) ?? null,
      };
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

  // Trained with twice the weight on stain: in Bayes' rule such odds are those of the prior times two.
  it('holds stain for half as likely against residue as it was trained to, and not against bare steel', async () => {
    const log3 = Math.log(3);
    const { probabilities, codes } = await segmented(
      fakeNetwork([-99, -99, log3, 0, -99, -99], {
        7: [-99, -99, Math.log(1.9), 0, -99, -99],
        8: [-99, 0, 0.1, -99, -99, -99],
        9: [-99, 0.1, 0.6, 0, -99, -99],
      }),
    );
    expect(probabilities.map((layer) => layer[5])).toEqual([0, 153, 102, 0, 0]);
    expect([5, 7, 8, 9].map((i) => codes.values[i])).toEqual([
      CLASS_CODE.stain,
      CLASS_CODE.rust,
      CLASS_CODE.stain,
      CLASS_CODE.stain,
    ]);
  });

  // Least errors of the residue share: what is residue of some kind counts as that, whichever kind it is.
  it('tells residue from clean steel by all kinds of residue together, and then which kind', async () => {
    const odds = (...shares: number[]): number[] => [-99, ...shares.map((share) => Math.log(Math.max(share, 1e-9)))];
    const { codes } = await segmented(
      fakeNetwork(odds(0.4, 0, 0.3, 0.05, 0.25), {
        7: odds(0.5, 0, 0.3, 0.2, 0),
        8: odds(0.56, 0, 0.24, 0.1, 0.1),
        9: odds(0.3, 0.3, 0, 0.15, 0.4),
      }),
    );
    expect([5, 7, 8, 9].map((i) => codes.values[i])).toEqual([
      CLASS_CODE.rust,
      CLASS_CODE.rust,
      CLASS_CODE.bare,
      CLASS_CODE.coating,
    ]);
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

  it('with a card, takes what looks like its paper for paint unless it is brighter than paper: the card is not in the zone', async () => {
    const paper = [6, 0, -9, -9, -9, 3];
    const view = normalised(
      plainView({ width: WIDTH, height: HEIGHT, stepMm: 0.25 }, (column) => [column === 0 ? 99 : 96, 0, 2]),
    );
    const { codes, blocked } = await segmented(fakeNetwork(paper), view);
    expect([codes.values[0], blocked.values[0]]).toEqual([0, BLOCKED.glare]);
    expect([codes.values[1], blocked.values[1]]).toEqual([CLASS_CODE.coating, 0]);
  });

  it('reads the class of clipped pixels where a card tells the light, and leaves their colour unknown', async () => {
    const view = viewWith(0.25);
    view.blocked.values.set([BLOCKED.clipped, BLOCKED.shadow]);
    const bright = fakeNetwork([-9, 3, 0, 0, 0, 0]);
    const known = await segmented(bright, normalised(view));
    expect([...known.codes.values.slice(0, 3)]).toEqual([CLASS_CODE.bare, 0, CLASS_CODE.bare]);
    expect([...known.blocked.values.slice(0, 3)]).toEqual([BLOCKED.clipped, BLOCKED.shadow, 0]);
    expect([...codesOfKnownColour(known).values.slice(0, 3)]).toEqual([0, 0, CLASS_CODE.bare]);
    const unknown = await segmented(bright, view);
    expect([...unknown.codes.values.slice(0, 3)]).toEqual([0, 0, CLASS_CODE.bare]);
  });

  it('reads four interleaved tiles as it reads the whole picture', async () => {
    const planes = Array.from({ length: 7 }, (_, k) =>
      Float32Array.from({ length: WIDTH * HEIGHT }, (__, i) => 3 * Math.sin(12.9 * (31 * k + i))),
    );
    const whole: ClassNetwork = {
      classify(_, __, take) {
        take({ ...wholeTile({ width: WIDTH, height: HEIGHT, planes }), underDwell: planes[UNDER_DWELL] });
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
          take({
            planes: every,
            width,
            height,
            column,
            row,
            step: 2,
            first: 0,
            stride: width,
            underDwell: every[UNDER_DWELL],
          });
        }
        return Promise.resolve(success('fake/1'));
      },
    };
    const view = normalised(viewWith(0.25));
    view.zone.values[9] = 0;
    view.blocked.values[16] = BLOCKED.clipped;
    const read = await segmented(interleaved, view);
    expect(read).toEqual(await segmented(whole, view));
    expect(new Set(read.underDwell).size).toBeGreaterThan(9);
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
    const known = await segmented(fakeNetwork(sure), normalised(viewWith(0.25)));
    expect(await sigmaOf(sure)).toBeGreaterThan(known.shareSigma.residue + 0.02);
  });

  it('hands on why the network cannot be asked', async () => {
    const fault = { code: 'model-missing', model: 'fake/1' } as const;
    const network: ClassNetwork = { classify: () => Promise.resolve(failure(fault)) };
    expect(await networkSegmenter(network).segment(viewWith(0.25))).toEqual({ ok: false, fault });
  });
});

describe('what the network tells of lack of dwell', () => {
  const CLASS_ODDS = [-9, 3, 0, 0, 0, 0];

  /** In 1/255, for up to as many log odds as the view has pixels. */
  async function told(odds: readonly number[], view = normalised(viewWith(0.25))): Promise<Uint8Array | null> {
    const others = Object.fromEntries(odds.map((value, i) => [i, [...CLASS_ODDS, value]]));
    return (await segmented(fakeNetwork([...CLASS_ODDS, 0], others), view)).underDwell;
  }

  // Logistic function. Rounding leaves half a step of the byte; odds are looked up in steps of 1/256, and the function rises
  // by no more than a quarter of those: 255 / 4 / 256 of a step of the byte.
  it('is the probability of its log odds, to the nearest byte', async () => {
    for (let first = -6; first < 6; first += 0.47) {
      const odds = Array.from({ length: WIDTH * HEIGHT }, (_, i) => Math.min(6, first + 0.02 * i));
      const shares = await told(odds);
      for (const [i, x] of odds.entries()) {
        expect(Math.abs((shares?.[i] ?? NaN) - 255 / (1 + Math.exp(-x)))).toBeLessThanOrEqual(0.5 + 255 / 4 / 256);
      }
    }
  });

  it('is even for even odds', async () => {
    expect((await told([0]))?.[0]).toBe(128);
  });

  it('is no or all from log odds of 7 on', async () => {
    expect([...((await told([-1e9, -30, -7.5, -7, 7, 7.5, 30, 1e9])) ?? [])].slice(0, 8)).toEqual([
      0, 0, 0, 0, 255, 255, 255, 255,
    ]);
  });

  it('does not change with the odds of the classes', async () => {
    const underDwellOf = async (classes: readonly number[]): Promise<Uint8Array | null> =>
      (await segmented(fakeNetwork([...classes, 1.2]), normalised(viewWith(0.25)))).underDwell;
    const shares = await underDwellOf(CLASS_ODDS);
    expect(shares?.[0]).toBe(Math.round(255 / (1 + Math.exp(-1.2))));
    expect(await underDwellOf([-9, -4, 1, 8, 2, 0])).toEqual(shares);
  });

  it('is left out where no card normalised the colours', async () => {
    expect(await told([3], viewWith(0.25))).toBeNull();
    expect(await told([3], viewWith(null))).toBeNull();
  });

  it('is nothing anywhere where the network tells classes alone', async () => {
    const { codes, underDwell } = await segmented(fakeNetwork(CLASS_ODDS), normalised(viewWith(0.25)));
    expect(codes.values.every((code) => code === CLASS_CODE.bare)).toBe(true);
    expect(underDwell?.some((share) => share > 0) ?? false).toBe(false);
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
