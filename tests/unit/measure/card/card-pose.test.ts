import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../../../server/domain/index.ts';
import { focalLengthOf, tiltOf } from '../../../../server/measure/card/card-pose.ts';
import { reliefMotion } from '../../../../server/measure/card/card-relief.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from '../../../../server/measure/card/card-grid.ts';
import { project } from '../../../../server/measure/geometry/homography.ts';
import { pinholeView } from '../../../support/picture-of-card.ts';

const photo = { width: 2400, height: 1800 };
const degrees = Math.PI / 180;
const view = (tilt: number, azimuth: number, roll = 0, focal = 0.73): ReturnType<typeof pinholeView> =>
  pinholeView({
    ...photo,
    cardWidthPx: 900,
    tilt: tilt * degrees,
    azimuth: azimuth * degrees,
    roll: roll * degrees,
    focalPx: focal * photo.width,
  });

describe('the tilt of the camera against the surface', () => {
  it('is recovered for the focal length that phones have', () => {
    for (const tilt of [0, 10, 30, 50]) {
      for (const azimuth of [0, 45, 130, 260]) expect(tiltOf(view(tilt, azimuth), photo)).toBeCloseTo(tilt, 0);
    }
  });

  it('is recovered within 3 degrees from a lens half as long again or a third shorter', () => {
    for (const focal of [0.5, 1.1]) {
      for (const tilt of [15, 40]) expect(Math.abs(tiltOf(view(tilt, 70, 0, focal), photo) - tilt)).toBeLessThan(3);
    }
  });

  it('does not change when the camera is rolled', () => {
    expect(tiltOf(view(33, 20, 145), photo)).toBeCloseTo(tiltOf(view(33, 20 - 145, 0), photo), 0);
  });
});

describe('the focal length', () => {
  it('is read off a tilted card', () => {
    expect(focalLengthOf(view(45, 30, 0, 0.9), photo) / (0.9 * photo.width)).toBeCloseTo(1, 1);
  });

  it('is the usual one face on, where the card says nothing about it', () => {
    expect(focalLengthOf(view(0, 0, 0, 1.2), photo)).toBeCloseTo(0.73 * photo.width, 6);
  });
});

describe('the motion of what stands off the plane', () => {
  const middle = surfacePoint(CARD_WIDTH_MM / 2, CARD_HEIGHT_MM / 2);

  it('is away from the photo’s centre when seen face on', () => {
    // A point at offset r from the centre and height h above a plane at distance D moves outwards by r h / D, per mm r / D.
    const move = reliefMotion(view(0, 0), photo);
    const distanceMm = (0.73 * photo.width * CARD_WIDTH_MM) / 900;
    const [u] = project(view(0, 0), surfacePoint(CARD_WIDTH_MM, CARD_HEIGHT_MM / 2));
    const [du, dv] = move(surfacePoint(CARD_WIDTH_MM, CARD_HEIGHT_MM / 2));
    expect(du).toBeCloseTo((u - photo.width / 2) / distanceMm, 2);
    expect(dv).toBeCloseTo(0, 6);
    expect(move(middle)[0]).toBeCloseTo(0, 6);
  });

  it('is, in the middle of a tilted view, the sine of the tilt in pixels per mm', () => {
    // Seen under 40 degrees, 1 mm of height shows as sin 40 = 0.64 mm across the view: 900 px / 152.4 mm x 0.64.
    const [du, dv] = reliefMotion(view(40, 90), photo)(middle);
    expect(Math.hypot(du, dv)).toBeCloseTo((900 / CARD_WIDTH_MM) * Math.sin(40 * degrees), 1);
    expect(Math.abs(du)).toBeLessThan(0.01);
    // The plane recedes down the photo, so what stands up moves that way, over what lies behind it.
    expect(dv).toBeGreaterThan(0);
  });
});
