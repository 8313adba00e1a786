import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { faultSentence, parseZone, photoPoint, surfacePoint } from '../../server/domain/index.ts';
import type { Zone } from '../../server/domain/index.ts';
import { placeZone } from '../../server/measure/geometry/place-zone.ts';
import { clipToRectangle, crossingEdges, polygonArea } from '../../server/measure/geometry/polygon.ts';
import { enclosingRectangle, layGrid, planeToGrid } from '../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../server/measure/raster/plane.ts';
import { fillPolygon } from '../../server/measure/raster/polygon-mask.ts';
import { placedCard } from '../support/placed-card.ts';
import { pinholeView } from '../support/picture-of-card.ts';

const photo = { width: 1200, height: 900 };
const tilted = placedCard(
  pinholeView({ ...photo, cardWidthPx: 400, tilt: 0.9, azimuth: -1.2, roll: 0.3, focalPx: 700 }),
  photo,
);

/** Evenly spread; doubles would crowd round 0. */
const tenths = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 10 * min, max: 10 * max }).map((n) => n / 10);

/** A star-shaped polygon round a point: simple by construction. */
const stars = fc
  .record({
    x: tenths(-50, 500),
    y: tenths(-50, 400),
    radii: fc.array(tenths(5, 150), { minLength: 3, maxLength: 12 }),
  })
  .map(({ x, y, radii }) =>
    radii.map((radius, k) => {
      const angle = (2 * Math.PI * k) / radii.length;
      return surfacePoint(x + radius * Math.cos(angle), y + radius * Math.sin(angle));
    }),
  );
const anyNumber = fc.double({ noNaN: true, noDefaultInfinity: true });
const usualNumber = fc.double({ min: -500, max: 2000, noNaN: true });
const vertices = fc.array(fc.tuple(fc.oneof(anyNumber, usualNumber), fc.oneof(anyNumber, usualNumber)), {
  minLength: 3,
  maxLength: 8,
});

describe('a zone from any text', () => {
  it('is a zone or a fault with a sentence, never an exception', () => {
    const text = fc.oneof(
      fc.string({ maxLength: 60 }),
      fc
        .array(fc.oneof(fc.double().map(String), fc.string({ maxLength: 4 })), { maxLength: 10 })
        .map((w) => `mm:${w.join(',')}`),
      vertices.map((points) => `px:${points.flat().join(',')}`),
    );
    fc.assert(
      fc.property(text, (words) => {
        const outcome = parseZone(words);
        if (!outcome.ok) expect(faultSentence(outcome.fault).length).toBeGreaterThan(10);
        else {
          expect(outcome.value.polygon.length).toBeGreaterThanOrEqual(3);
          expect(outcome.value.polygon.flat().every(Number.isFinite)).toBe(true);
        }
      }),
      { seed: 81, numRuns: 600 },
    );
  });

  it('comes back as it was written', () => {
    fc.assert(
      fc.property(vertices, (points) => {
        const outcome = parseZone(`px:${points.flat().join(', ')}`);
        expect(outcome.ok && outcome.value.polygon.map(([x, y]) => [x, y])).toEqual(
          points.map(([x, y]) => [x + 0, y + 0]),
        );
      }),
      { seed: 82, numRuns: 200 },
    );
  });
});

describe('placing any zone', () => {
  it('gives a finite plane that can be measured, or a fault: with a card, without, however large the numbers', () => {
    const zones = fc.oneof(
      vertices.map((points): Zone => ({ space: 'photo', polygon: points.map(([x, y]) => photoPoint(x, y)) })),
      vertices.map((points): Zone => ({ space: 'surface', polygon: points.map(([x, y]) => surfacePoint(x, y)) })),
      stars.map((polygon): Zone => ({ space: 'surface', polygon })),
      stars.map((polygon): Zone => ({ space: 'photo', polygon: polygon.map(([x, y]) => photoPoint(x, y)) })),
    );
    let placedCount = 0;
    fc.assert(
      fc.property(zones, fc.boolean(), (zone, withCard) => {
        const placing = placeZone(zone, withCard ? tilted : null, photo);
        if (!placing.ok) {
          expect(faultSentence(placing.fault)).not.toMatch(/NaN|undefined|Infinity/);
          return;
        }
        placedCount++;
        const { polygon, pxPerUnit, unit } = placing.value;
        expect(polygon.flat().every(Number.isFinite)).toBe(true);
        expect(Number.isFinite(pxPerUnit) && pxPerUnit > 0).toBe(true);
        expect(unit).toBe(withCard ? 'mm' : 'px');
        const grid = layGrid(polygon, unit, 0.25, 100_000);
        expect(grid.width * grid.height).toBeGreaterThan(0);
      }),
      { seed: 83, numRuns: 2000 },
    );
    expect(placedCount).toBeGreaterThan(100);
  });
});

describe('polygons', () => {
  it('that are star-shaped do not cross themselves', () => {
    fc.assert(
      fc.property(stars, (polygon) => {
        expect(crossingEdges(polygon)).toBeNull();
      }),
      { seed: 84, numRuns: 200 },
    );
  });

  it('have an area that does not change when they are moved, turned or walked the other way', () => {
    fc.assert(
      fc.property(stars, fc.double({ min: -3, max: 3, noNaN: true }), (polygon, angle) => {
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const moved = polygon.map(([x, y]) => surfacePoint(7 + c * x - s * y, -3 + s * x + c * y));
        expect(polygonArea(moved) / polygonArea(polygon)).toBeCloseTo(1, 9);
        expect(polygonArea([...polygon].reverse())).toBeCloseTo(polygonArea(polygon), 6);
      }),
      { seed: 85, numRuns: 200 },
    );
  });

  it('lose nothing when a rectangle round them cuts them, and never gain', () => {
    fc.assert(
      fc.property(stars, fc.double({ min: -100, max: 500, noNaN: true }), (polygon, cut) => {
        const wide = { x0: -1e4, y0: -1e4, x1: 1e4, y1: 1e4 };
        const left = polygonArea(clipToRectangle(polygon, { ...wide, x1: cut }));
        const right = polygonArea(clipToRectangle(polygon, { ...wide, x0: cut }));
        expect(polygonArea(clipToRectangle(polygon, wide))).toBeCloseTo(polygonArea(polygon), 6);
        expect(left + right).toBeCloseTo(polygonArea(polygon), 5);
      }),
      { seed: 86, numRuns: 200 },
    );
  });

  it('fit into the rectangle round them, which is no larger than the upright one', () => {
    fc.assert(
      fc.property(stars, (polygon) => {
        const { size } = enclosingRectangle(polygon);
        const [xs, ys] = [polygon.map((p) => p[0]), polygon.map((p) => p[1])];
        const upright = (Math.max(...xs) - Math.min(...xs)) * (Math.max(...ys) - Math.min(...ys));
        expect(size[0] * size[1]).toBeGreaterThanOrEqual(polygonArea(polygon) - 1e-6);
        expect(size[0] * size[1]).toBeLessThanOrEqual(upright + 1e-6);
      }),
      { seed: 87, numRuns: 200 },
    );
  });

  it('fill about their area of pixels on the grid laid over them', () => {
    fc.assert(
      fc.property(stars, (polygon) => {
        const grid = layGrid(polygon, 'mm', 0.5, 200_000);
        const mask = byteMask(grid.width, grid.height);
        fillPolygon(
          mask,
          polygon.map(([x, y]) => planeToGrid(grid, x, y)),
          1,
        );
        const area = mask.values.reduce((sum, v) => sum + v, 0) * grid.step ** 2;
        const rim = polygon.reduce((sum, [x, y], i) => {
          const [nx, ny] = polygon[(i + 1) % polygon.length];
          return sum + Math.hypot(nx - x, ny - y);
        }, 0);
        // Half a pixel along the rim at most, were all errors of one sign.
        expect(Math.abs(area - polygonArea(polygon))).toBeLessThan(0.5 * grid.step * rim);
      }),
      { seed: 88, numRuns: 60 },
    );
  });
});
