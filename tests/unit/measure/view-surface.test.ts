import { describe, expect, it } from 'vitest';
import { openCvKernel } from '../../../server/adapters/vision/open-cv-kernel.ts';
import { photoPoint, surfacePoint } from '../../../server/domain/index.ts';
import type { Zone } from '../../../server/domain/index.ts';
import { PLAIN_SRGB } from '../../../server/measure/colour/normalise-colour.ts';
import { describePhoto } from '../../../server/measure/describe-photo.ts';
import { BLOCKED } from '../../../server/measure/geometry/rectify-photo.ts';
import { planeToGrid } from '../../../server/measure/geometry/surface-grid.ts';
import { encodedRgbRaster } from '../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../server/measure/raster/rgb-raster.ts';
import { FINEST_STEP_MM, readCard, viewSurface } from '../../../server/measure/view-surface.ts';
import type { SurfaceView } from '../../../server/measure/view-surface.ts';
import { pictureOfCard, pinholeView } from '../../support/picture-of-card.ts';

const kernel = openCvKernel();
const size = { width: 760, height: 560 };
/** Light grey left of x = 200 mm, darker right of it; L* 68 and 50. */
const [LIGHT, DARK] = [0.379, 0.184];
const toPhoto = pinholeView({ ...size, cardWidthPx: 320, tilt: 0.35, azimuth: 0.4, roll: 0.1, focalPx: 555 });
const isOnCard = (x: number, y: number): boolean => x >= 0 && y >= 0 && x < 152.4 && y < 101.6;
const photos = new Map<number, Promise<EncodedRgbRaster>>();
function photoAt(exposure: number): Promise<EncodedRgbRaster> {
  const photo =
    photos.get(exposure) ??
    pictureOfCard({
      ...size,
      toPhoto,
      exposure,
      paint: (x, y, light) => (isOnCard(x, y) ? light : x < 200 ? LIGHT : DARK),
    });
  photos.set(exposure, photo);
  return photo;
}
const zone: Zone = {
  space: 'surface',
  polygon: [surfacePoint(165, 5), surfacePoint(235, 5), surfacePoint(235, 85), surfacePoint(165, 85)],
};

function viewed(photo: EncodedRgbRaster, asked: Zone | null): SurfaceView {
  const card = readCard(photo, null, kernel);
  if (!card.ok) throw new Error(card.fault.code);
  const view = viewSurface(photo, card.value, asked);
  if (!view.ok) throw new Error(view.fault.code);
  return view.value;
}
function lightnessAt({ grid, lab }: SurfaceView, x: number, y: number): number {
  const [column, row] = planeToGrid(grid, x, y).map(Math.floor);
  return lab.L.values[row * grid.width + column];
}

describe('a zone brought to its plane in true colour', () => {
  it('shows the surface where it lies and as light as it is, whatever the exposure', async () => {
    for (const exposure of [0.4, 0.9]) {
      const view = viewed(await photoAt(exposure), zone);
      for (const y of [15, 45, 75]) {
        expect(Math.abs(lightnessAt(view, 180, y) - 68)).toBeLessThan(1.5);
        expect(Math.abs(lightnessAt(view, 222, y) - 50)).toBeLessThan(1.5);
      }
      // The edge at 200 mm is found to less than a millimetre.
      expect(lightnessAt(view, 199, 45) - lightnessAt(view, 201, 45)).toBeGreaterThan(12);
    }
  });

  it('has a raster no finer than the photo and no finer than is useful', async () => {
    const { grid, placed, zone: mask } = viewed(await photoAt(0.9), zone);
    expect(grid.unit).toBe('mm');
    expect(grid.step).toBeGreaterThanOrEqual(FINEST_STEP_MM);
    expect(grid.step).toBeCloseTo(1 / placed.pxPerUnit, 6);
    const area = mask.values.reduce((sum, v) => sum + v, 0) * grid.step ** 2;
    expect(area / (70 * 80)).toBeCloseTo(1, 2);
  });

  it('is everything but the card and its rim when no zone is given', async () => {
    const view = viewed(await photoAt(0.9), null);
    const inZone = (x: number, y: number): number => {
      const [column, row] = planeToGrid(view.grid, x, y).map(Math.floor);
      return view.zone.values[row * view.grid.width + column];
    };
    expect([inZone(76, 50), inZone(-2, 50), inZone(1, 1), inZone(154, 50)]).toEqual([0, 0, 0, 0]);
    expect([inZone(-10, 50), inZone(160, 50), inZone(76, 110)]).toEqual([1, 1, 1]);
  });

  it('is described by the card: found, scale, tilt and colour', async () => {
    const photo = await photoAt(0.9);
    const view = viewed(photo, zone);
    const { card } = describePhoto({ widthPx: 760, heightPx: 560, sha256: 'a'.repeat(64) }, view);
    expect(card).toMatchObject({ found: true, edition: 0, markersRead: 4 });
    expect(card.mmPerPixel).toBeCloseTo(1 / view.placed.pxPerUnit, 3);
    expect(Math.abs((card.tiltDegrees ?? NaN) - 20.05)).toBeLessThan(2);
    expect(card.colourErrorDeltaE00?.median).toBeLessThan(1);
    expect(card.mmPerPixelRelativeSigma).toBeLessThan(0.01);
  });
});

describe('a photo without a card', () => {
  const photo = encodedRgbRaster(200, 150, new Uint8Array(3 * 200 * 150).fill(119));

  it('is read as plain sRGB, in pixels', () => {
    const view = viewed(photo, null);
    expect(view.grid).toMatchObject({ unit: 'px', width: 200, height: 150, step: 1 });
    expect(view.normalisation).toBe(PLAIN_SRGB);
    // Code 119 is L* 50.03 (IEC 61966-2-1 and CIE 15, worked by hand: 0.1845 and 116 x 0.1845^(1/3) - 16).
    expect(view.lab.L.values[777]).toBeCloseTo(50.03, 1);
    expect(describePhoto({ widthPx: 200, heightPx: 150, sha256: 'a'.repeat(64) }, view).card).toEqual({
      found: false,
      mmPerPixel: null,
      tiltDegrees: null,
      colourErrorDeltaE00: null,
    });
  });

  it('blocks what is clipped', () => {
    const half = encodedRgbRaster(
      200,
      150,
      Uint8Array.from(photo.pixels, (code, i) => (i % 600 < 300 ? 255 : code)),
    );
    const { blocked } = viewed(half, null);
    expect(blocked.values[100 * 200 + 20]).toBe(BLOCKED.clipped);
    expect(blocked.values[100 * 200 + 150]).toBe(0);
  });

  it('keeps a stated scale apart from millimetres', () => {
    const card = readCard(photo, null, kernel);
    if (!card.ok) throw new Error(card.fault.code);
    const view = viewSurface(photo, card.value, null, 0.2);
    expect(view.ok && view.value.grid).toMatchObject({ unit: 'px', statedMmPerPixel: 0.2 });
  });

  it('refuses a zone in pixels that is too small', () => {
    const tiny: Zone = {
      space: 'photo',
      polygon: [photoPoint(5, 5), photoPoint(15, 5), photoPoint(15, 15), photoPoint(5, 15)],
    };
    const card = readCard(photo, null, kernel);
    if (!card.ok) throw new Error(card.fault.code);
    const view = viewSurface(photo, card.value, tiny);
    expect(view.ok || view.fault.code).toBe('zone-too-small');
  });
});
