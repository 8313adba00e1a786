import { describe, expect, it } from 'vitest';
import { photoPoint, surfacePoint } from '../../../../server/domain/index.ts';
import type { FaultCode, Zone } from '../../../../server/domain/index.ts';
import type { LocatedCard } from '../../../../server/measure/card/locate-card.ts';
import { placeZone } from '../../../../server/measure/geometry/place-zone.ts';
import { toPhotoPixel } from '../../../../server/measure/geometry/photo-map.ts';
import { polygonArea } from '../../../../server/measure/geometry/polygon.ts';
import { faceOn, placedCard } from '../../../support/placed-card.ts';
import { pinholeView } from '../../../support/picture-of-card.ts';

const photo = { width: 1200, height: 900 };
/** 4 px/mm, the card from (100, 100) to (709.6, 506.4) px; the photo shows x from -25 to 275 and y from -25 to 200 mm. */
const located = placedCard(faceOn(4, [100, 100]), photo);

const inMm = (...xy: [number, number][]): Zone => ({
  space: 'surface',
  polygon: xy.map(([x, y]) => surfacePoint(x, y)),
});
const inPx = (...xy: [number, number][]): Zone => ({ space: 'photo', polygon: xy.map(([x, y]) => photoPoint(x, y)) });
const box = (x0: number, y0: number, x1: number, y1: number): [number, number][] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const near = (value: number, digits: number): unknown => expect.closeTo(value, digits);

function faultOf(zone: Zone | null, card: LocatedCard | null = located): FaultCode | 'placed' {
  const placing = placeZone(zone, card, photo);
  return placing.ok ? 'placed' : placing.fault.code;
}

describe('a zone beside the card', () => {
  it('in millimetres keeps its outline and learns how large a millimetre is in the photo', () => {
    const placing = placeZone(inMm(...box(170, 0, 250, 100)), located, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    expect(placing.value).toMatchObject({ unit: 'mm', isWholePhoto: false });
    expect(polygonArea(placing.value.polygon)).toBeCloseTo(8000, 9);
    expect(placing.value.pxPerUnit).toBeCloseTo(4, 9);
  });

  it('in pixels lands where the same zone in millimetres lies', () => {
    const placing = placeZone(inPx(...box(100 + 4 * 170, 100, 100 + 4 * 250, 500)), located, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    box(170, 0, 250, 100).forEach(([x, y], i) => {
      expect(placing.value.polygon[i][0]).toBeCloseTo(x, 9);
      expect(placing.value.polygon[i][1]).toBeCloseTo(y, 9);
    });
  });

  it('may stick out of the photo by a hair, not by more', () => {
    expect(faultOf(inMm(...box(175, 0, 275.5, 100)))).toBe('placed');
    const placing = placeZone(inMm(...box(175, 0, 295, 100)), located, photo);
    expect(placing.ok || placing.fault).toEqual({ code: 'zone-outside-photo', outsideShare: near(1 / 6, 6) });
  });

  it('that lies altogether outside is all outside', () => {
    const placing = placeZone(inMm(...box(400, 400, 500, 500)), located, photo);
    expect(placing.ok || placing.fault).toEqual({ code: 'zone-outside-photo', outsideShare: 1 });
  });

  it('may not cross itself', () => {
    const placing = placeZone(inMm([170, 0], [250, 100], [250, 0], [170, 100]), located, photo);
    expect(placing.ok || placing.fault).toEqual({ code: 'zone-crosses-itself', edges: [0, 2] });
  });

  it('may touch the card but not lie over it, and says how much of it the card covers', () => {
    expect(faultOf(inMm(...box(152.4, 0, 250, 100)))).toBe('placed');
    const placing = placeZone(inMm(...box(132.4, 0, 232.4, 100)), located, photo);
    expect(placing.ok || placing.fault).toEqual({ code: 'zone-over-card', overlapShare: near(0.2, 9) });
  });

  it('that the card lies inside of is refused too', () => {
    expect(faultOf(inMm(...box(-20, -20, 260, 190)))).toBe('zone-over-card');
  });

  it('of too few pixels is refused with their number', () => {
    const placing = placeZone(inMm(...box(170, 0, 179, 9)), located, photo);
    expect(placing.ok || placing.fault).toEqual({
      code: 'zone-too-small',
      areaPx: near(36 * 36, 6),
      leastPx: 1600,
    });
  });

  it('without an area is refused and not measured', () => {
    expect(faultOf(inMm([170, 0], [180, 10], [190, 20]))).toBe('zone-too-small');
  });

  it('of coordinates too large to multiply is refused and not measured', () => {
    expect(faultOf(inPx([1e200, 1e200], [2e200, 2e200], [0, 2e200], [-1e200, 1e200]), null)).not.toBe('placed');
    expect(faultOf(inMm([1e300, 1e300], [1.5e300, 1.7e300], [0, 1.7e300], [-1e300, 1e300]))).not.toBe('placed');
  });
});

describe('a zone without a card', () => {
  it('in millimetres asks for the card', () => {
    expect(faultOf(inMm(...box(170, 0, 250, 100)), null)).toBe('zone-needs-card');
  });

  it('in pixels is measured in pixels', () => {
    const placing = placeZone(inPx(...box(10, 20, 310, 220)), null, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    expect(placing.value.unit).toBe('px');
    expect(placing.value.pxPerUnit).toBeCloseTo(1, 9);
    expect(polygonArea(placing.value.polygon)).toBeCloseTo(60_000, 6);
  });

  it('that is not given is the whole photo', () => {
    const placing = placeZone(null, null, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    expect(placing.value.isWholePhoto).toBe(true);
    expect(polygonArea(placing.value.polygon)).toBeCloseTo(1200 * 900, 6);
  });
});

describe('a view across the surface', () => {
  /** Tilted by 75 degrees: the horizon runs through the upper part of the photo. */
  const steep = placedCard(
    pinholeView({
      ...photo,
      cardWidthPx: 400,
      tilt: (75 * Math.PI) / 180,
      azimuth: -Math.PI / 2,
      roll: 0,
      focalPx: 800,
    }),
    photo,
  );

  it('has no surface above its horizon', () => {
    expect(faultOf(inPx(...box(100, 10, 1100, 200)), steep)).toBe('zone-behind-camera');
  });

  it('has no surface behind the camera', () => {
    expect(faultOf(inMm(...box(0, 500, 150, 600)), steep)).toBe('zone-behind-camera');
  });

  it('takes a zone in pixels below the horizon to the place that shows there', () => {
    const placing = placeZone(inPx(...box(900, 470, 1100, 700)), steep, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    const [x, y] = toPhotoPixel(steep.map, placing.value.polygon[2]);
    expect(x).toBeCloseTo(1100, 6);
    expect(y).toBeCloseTo(700, 6);
  });

  it('without a zone leaves out what recedes towards the horizon', () => {
    const placing = placeZone(null, steep, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    expect(Math.max(...placing.value.polygon.map(([x, y]) => Math.hypot(x, y)))).toBeLessThan(5000);
  });
});

describe('a card face on without a zone', () => {
  it('leaves the whole photo on the plane', () => {
    const placing = placeZone(null, located, photo);
    if (!placing.ok) throw new Error(placing.fault.code);
    expect(polygonArea(placing.value.polygon)).toBeCloseTo(300 * 225, 6);
  });
});
