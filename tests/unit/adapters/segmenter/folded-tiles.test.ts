import { describe, expect, it } from 'vitest';
import { foldedTiles } from '../../../../server/adapters/segmenter/folded-tiles.ts';
import { tileSpans } from '../../../../server/adapters/segmenter/tile-plan.ts';
import type { TileSpan } from '../../../../server/adapters/segmenter/tile-plan.ts';
import { success } from '../../../../server/domain/index.ts';
import { wholeLogits } from '../../../../server/measure/segmentation/class-network.ts';
import type { ClassNetwork } from '../../../../server/measure/segmentation/class-network.ts';
import { labOf } from '../../../support/plain-view.ts';

const CLASSES = 6;
const SCALE = { stepMm: 0.25, isColourNormalised: true };

/** A value that tells class and place of the raster apart from all others: small whole numbers, exact in float32. */
const valueAt = (k: number, column: number, row: number): number => (k * 200 + row) * 200 + column;

/** Lack of dwell of the four pixels from an even place of the tile on: one value for all of them. */
const dwellAt = (column: number, row: number): number => -(row * 200 + column) - 1;

/** What a network that folds its answer tells about a tile: PyTorch's pixel_unshuffle of it. */
function foldedAnswer(columns: TileSpan, rows: TileSpan): Float32Array {
  const [width, height] = [columns.length / 2, rows.length / 2];
  const answer = new Float32Array((CLASSES * 4 + 1) * width * height);
  for (let k = 0; k < CLASSES; k++) {
    for (let v = 0; v < rows.length; v++) {
      for (let u = 0; u < columns.length; u++) {
        const channel = 4 * k + 2 * (v % 2) + (u % 2);
        const place = Math.floor(v / 2) * width + Math.floor(u / 2);
        answer[channel * width * height + place] = valueAt(k, columns.from + u, rows.from + v);
      }
    }
  }
  for (let v = 0; v < height; v++) {
    for (let u = 0; u < width; u++) {
      answer[(CLASSES * 4 * height + v) * width + u] = dwellAt(columns.from + 2 * u, rows.from + 2 * v);
    }
  }
  return answer;
}

/** The tiles as a network would hand them over, and how often each pixel was told. */
async function unfolded(width: number, height: number, across: readonly TileSpan[], down: readonly TileSpan[]) {
  const times = new Uint8Array(width * height);
  const network: ClassNetwork = {
    classify(_, __, take) {
      for (const rows of down) {
        for (const columns of across) {
          for (const tile of foldedTiles(foldedAnswer(columns, rows), columns, rows)) {
            for (let y = 0; y < tile.height; y++) {
              for (let x = 0; x < tile.width; x++) {
                times[(tile.row + y * tile.step) * width + tile.column + x * tile.step]++;
              }
            }
            take(tile);
          }
        }
      }
      return Promise.resolve(success('fake/1'));
    },
  };
  const lab = labOf(width, height, () => [50, 0, 0]);
  const answer = await wholeLogits(network, lab, SCALE);
  if (!answer.ok) throw new Error(answer.fault.code);
  return { times, planes: answer.value.logits.planes };
}

function expectedPlanes(width: number, height: number): Float32Array[] {
  return Array.from({ length: CLASSES }, (_, k) =>
    Float32Array.from({ length: width * height }, (__, i) => valueAt(k, i % width, Math.floor(i / width))),
  );
}

describe('a folded answer', () => {
  it.each([
    [1, 1],
    [2, 1],
    [1, 2],
    [33, 31],
    [64, 96],
    [131, 77],
  ])('unfolds to every pixel once, each in its place: %i x %i px in tiles of 96', async (width, height) => {
    const [across, down] = [tileSpans(width, 96, 10), tileSpans(height, 96, 11)];
    const { times, planes } = await unfolded(width, height, across, down);
    expect(times.every((count) => count === 1)).toBe(true);
    expect(planes).toEqual(expectedPlanes(width, height));
  });

  it('may be cut anywhere, at odd places of the picture and of the tile, down to a single line', async () => {
    const [width, height] = [21, 10];
    for (let cut = 1; cut < 6; cut++) {
      for (const offset of [0, 1]) {
        const left = { from: 0, length: 32, keepFrom: 0, keepTo: cut };
        const right = { from: cut - Math.min(cut, offset), length: 64, keepFrom: cut, keepTo: width };
        const line = { from: 0, length: 32, keepFrom: 0, keepTo: 1 };
        const rest = { from: 1 - offset, length: 64, keepFrom: 1, keepTo: height };
        const { times, planes } = await unfolded(width, height, [left, right], [line, rest]);
        expect(times.every((count) => count === 1)).toBe(true);
        expect(planes).toEqual(expectedPlanes(width, height));
      }
    }
  });

  it('is looked into, not copied', () => {
    const [span] = tileSpans(32, 96, 10);
    const answer = foldedAnswer(span, span);
    const tiles = foldedTiles(answer, span, span);
    expect(tiles).toHaveLength(4);
    for (const { planes } of tiles) {
      expect(planes).toHaveLength(CLASSES);
      expect(planes.every((plane) => plane.buffer === answer.buffer)).toBe(true);
    }
  });

  it('tells lack of dwell once for four pixels', () => {
    const [span] = tileSpans(32, 96, 10);
    for (const { underDwell, column, row, width, height, step, first, stride } of foldedTiles(
      foldedAnswer(span, span),
      span,
      span,
    )) {
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) {
          const [u, v] = [column + x * step, row + y * step];
          expect(underDwell?.[first + y * stride + x]).toBe(dwellAt(u - (u % 2), v - (v % 2)));
        }
      }
    }
  });
});
