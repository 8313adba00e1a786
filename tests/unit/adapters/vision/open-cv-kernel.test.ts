import { describe, expect, it } from 'vitest';
import { liveNativeObjects } from '../../../../server/adapters/vision/native-scope.ts';
import { openCv } from '../../../../server/adapters/vision/open-cv.ts';
import { openCvKernel } from '../../../../server/adapters/vision/open-cv-kernel.ts';
import type { GreyRaster } from '../../../../server/measure/raster/plane.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

const kernel = openCvKernel();
const search = { windowPx: 21, offset: 6, leastSidePx: 10 };

function grey(width: number, height: number, value: (x: number, y: number) => number): GreyRaster {
  const values = new Uint8Array(width * height);
  for (let i = 0; i < values.length; i++) values[i] = value(i % width, Math.floor(i / width));
  return { width, height, values };
}
const square = grey(160, 120, (x, y) => (x >= 40 && x < 80 && y >= 30 && y < 70 ? 30 : 220));
/** A few hundred blocks of chance grey: full of corners. */
function blocks(seed: number, shift = 0): GreyRaster {
  const random = seededRandom(seed);
  const cells = Uint8Array.from({ length: 40 * 40 }, () => 256 * random());
  return grey(240, 200, (x, y) => cells[Math.floor((y + 8) / 8) * 40 + Math.floor((x + shift + 8) / 8)]);
}

describe('dark quadrilaterals', () => {
  it('are found with corners to a pixel, clockwise as seen', () => {
    const found = kernel.findDarkQuadrilaterals(square, search);
    const corners = [
      [40, 30],
      [80, 30],
      [80, 70],
      [40, 70],
    ];
    // The window is smaller than the square, so that its hollow middle is outlined too.
    const isSquare = (quad: (typeof found)[number]): boolean =>
      corners.every(([cx, cy]) => quad.some(([x, y]) => Math.hypot(x - cx, y - cy) < 1.5));
    expect(found.some(isSquare)).toBe(true);
    for (const quad of found) {
      let turn = 0;
      quad.forEach(([x, y], k) => {
        const [nx, ny] = quad[(k + 1) % 4];
        turn += x * ny - nx * y;
      });
      expect(turn).toBeGreaterThan(0);
    }
  });

  it('are not found in discs, on level ground, or smaller than asked', () => {
    const disc = grey(160, 120, (x, y) => ((x - 80) ** 2 + (y - 60) ** 2 < 900 ? 30 : 220));
    expect(kernel.findDarkQuadrilaterals(disc, search)).toEqual([]);
    expect(
      kernel.findDarkQuadrilaterals(
        grey(80, 60, () => 128),
        search,
      ),
    ).toEqual([]);
    expect(kernel.findDarkQuadrilaterals(square, { ...search, leastSidePx: 60 })).toEqual([]);
  });
});

describe('matched marks', () => {
  it('are where the same picture was moved to', () => {
    const movedShare = (second: GreyRaster): number => {
      const matches = kernel.matchKeypoints(blocks(1), second, 300);
      expect(matches.length).toBeGreaterThan(50);
      const moved = matches.filter((m) => Math.hypot(m.first[0] - m.second[0] - 16, m.first[1] - m.second[1]) < 1);
      return moved.length / matches.length;
    };
    expect(movedShare(blocks(1, 16))).toBeGreaterThan(0.4);
    expect(movedShare(blocks(2))).toBeLessThan(0.05);
  });

  it('are none on level ground', () => {
    expect(
      kernel.matchKeypoints(
        grey(200, 150, () => 90),
        blocks(1),
        300,
      ),
    ).toEqual([]);
  });
});

describe('native memory', () => {
  it('is all given back after every search', () => {
    for (let i = 0; i < 3; i++) {
      kernel.findDarkQuadrilaterals(square, search);
      kernel.matchKeypoints(blocks(1), blocks(2), 300);
    }
    expect(liveNativeObjects()).toBe(0);
  });

  it('is given back when the library throws in the middle', () => {
    // Fewer values than pixels, and an even window, which the library refuses.
    expect(() => kernel.findDarkQuadrilaterals(square, { ...search, windowPx: 20 })).toThrow();
    const cut: GreyRaster = { width: 4, height: 4, values: new Uint8Array(99) };
    expect(() => kernel.findDarkQuadrilaterals(cut, search)).toThrow();
    expect(liveNativeObjects()).toBe(0);
  });

  it('does not grow over many searches', () => {
    const { HEAP8 } = openCv();
    for (let i = 0; i < 20; i++) kernel.findDarkQuadrilaterals(square, search);
    const before = openCv().HEAP8.length;
    for (let i = 0; i < 200; i++) kernel.findDarkQuadrilaterals(square, search);
    expect(openCv().HEAP8.length).toBe(before);
    expect(HEAP8.length).toBeLessThanOrEqual(before);
  });
});

it('loading the library leaves the process’s own error handlers alone', () => {
  const before = [process.listenerCount('uncaughtException'), process.listenerCount('unhandledRejection')];
  openCv();
  expect([process.listenerCount('uncaughtException'), process.listenerCount('unhandledRejection')]).toEqual(before);
});
