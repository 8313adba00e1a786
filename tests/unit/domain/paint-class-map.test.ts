import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OUTSIDE_CODE, paintClassMap } from '../../../server/domain/paint-class-map.ts';
import type { ClassMap } from '../../../server/domain/paint-class-map.ts';
import type { PaintMark } from '../../../server/domain/api/corrections.ts';

/** Rows of digits; a point is outside the zone. */
const mapOf = (...rows: readonly string[]): ClassMap => ({
  width: rows[0].length,
  height: rows.length,
  codes: Uint8Array.from(rows.join(''), (sign) => (sign === '.' ? OUTSIDE_CODE : Number(sign))),
});
const rowsOf = ({ width, height, codes }: ClassMap): string[] =>
  Array.from({ length: height }, (_, y) =>
    [...codes.subarray(y * width, (y + 1) * width)].map((code) => (code === OUTSIDE_CODE ? '.' : code)).join(''),
  );

describe('painting on a class map', () => {
  it('takes the pixels whose centre a polygon holds', () => {
    const map = mapOf('3333', '3333', '3333');
    const square: PaintMark = {
      kind: 'polygon',
      paint: 'bare',
      points: [
        [1, 0],
        [3, 0],
        [3, 2],
        [1, 2],
      ],
    };
    expect(rowsOf(paintClassMap(map, [square]))).toEqual(['3113', '3113', '3333']);
  });

  it('leaves out a hole by the even-odd rule', () => {
    const map = mapOf('33333', '33333', '33333', '33333', '33333');
    const ring: PaintMark = {
      kind: 'polygon',
      paint: 'bare',
      points: [
        [0, 0],
        [5, 0],
        [5, 5],
        [0, 5],
        [0, 0],
        [2, 2],
        [3, 2],
        [3, 3],
        [2, 3],
        [2, 2],
      ],
    };
    expect(rowsOf(paintClassMap(map, [ring]))[2]).toBe('11311');
  });

  it('draws a brush along its line, as wide as twice its radius', () => {
    const map = mapOf('333333', '333333', '333333');
    const line: PaintMark = {
      kind: 'brush',
      paint: 'stain',
      radiusPx: 0.6,
      points: [
        [1.5, 1.5],
        [4.5, 1.5],
      ],
    };
    expect(rowsOf(paintClassMap(map, [line]))).toEqual(['333333', '322223', '333333']);
    const dot: PaintMark = { kind: 'brush', paint: 'stain', radiusPx: 1, points: [[2.5, 1.5]] };
    expect(rowsOf(paintClassMap(map, [dot]))).toEqual(['332333', '322233', '332333']);
  });

  it('fills a patch over edges, not over corners', () => {
    const map = mapOf('331', '313', '133');
    const fill: PaintMark = { kind: 'fill', paint: 'scale', at: [0.5, 0.5] };
    expect(rowsOf(paintClassMap(map, [fill]))).toEqual(['441', '413', '133']);
  });

  it('never paints outside the zone, and marks may lie outside the map', () => {
    const map = mapOf('.33', '3.3');
    const marks: PaintMark[] = [
      {
        kind: 'polygon',
        paint: 'bare',
        points: [
          [-9, -9],
          [99, -9],
          [99, 99],
          [-9, 99],
        ],
      },
      { kind: 'fill', paint: 'rust', at: [0.5, 0.5] },
      { kind: 'fill', paint: 'rust', at: [-1, 50] },
      { kind: 'brush', paint: 'not measured', radiusPx: 0.5, points: [[50, 50]] },
    ];
    expect(rowsOf(paintClassMap(map, marks))).toEqual(['.11', '1.1']);
  });

  it('applies marks in their order and leaves the given map alone', () => {
    const map = mapOf('33');
    const all: PaintMark['kind'] = 'polygon';
    const points: [number, number][] = [
      [0, 0],
      [2, 0],
      [2, 1],
      [0, 1],
    ];
    const painted = paintClassMap(map, [
      { kind: all, paint: 'bare', points },
      { kind: all, paint: 'not measured', points },
    ] as PaintMark[]);
    expect([rowsOf(painted), rowsOf(map)]).toEqual([['00'], ['33']]);
  });

  it('paints the same pixels when map and mark are moved together', () => {
    // Sixty-fourths of a pixel: moved by whole pixels they stay exact, and edges often run through centres.
    const coordinate = fc.integer({ min: 0, max: 12 * 64 }).map((n) => n / 64);
    const points = fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 7 });
    fc.assert(
      fc.property(points, fc.integer({ min: 0, max: 5 }), (polygon, shift) => {
        const count = (size: number, move: number): number => {
          const map: ClassMap = { width: size, height: size, codes: new Uint8Array(size * size).fill(3) };
          const moved = polygon.map(([x, y]): [number, number] => [x + move, y + move]);
          return paintClassMap(map, [{ kind: 'polygon', paint: 'bare', points: moved }]).codes.filter((c) => c === 1)
            .length;
        };
        expect(count(30, shift)).toBe(count(30, 0));
      }),
    );
  });
});
