import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { CLASS_LOOKS } from '../../../../../server/adapters/report/overlay/class-look.ts';
import { overlayPng } from '../../../../../server/adapters/report/overlay/overlay-png.ts';
import { paintClasses } from '../../../../../server/adapters/report/overlay/paint-classes.ts';
import { picturePainter } from '../../../../../server/adapters/report/picture-painter.ts';
import { measuredShare } from '../../../../../server/domain/index.ts';
import { ciede2000 } from '../../../../../server/measure/colour/ciede2000.ts';
import { srgb8ToLabD50 } from '../../../../../server/measure/colour/lab-d50.ts';
import { encodedRgbRaster } from '../../../../../server/measure/raster/rgb-raster.ts';
import { byteMask } from '../../../../../server/measure/raster/plane.ts';
import type { Segmentation } from '../../../../../server/measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../../../server/measure/view-surface.ts';
import type { OverlayRequest } from '../../../../../server/services/ports.ts';
import { percentile } from '../../../../support/percentile.ts';
import { plainView } from '../../../../support/plain-view.ts';
import { seededRandom } from '../../../../support/seeded-random.ts';

const SIZE = { width: 400, height: 300 };

/** Bare on the left, rust on the right, a band of not measured at the bottom. */
function segmented(view: SurfaceView): Segmentation {
  const codes = byteMask(SIZE.width, SIZE.height);
  for (let i = 0; i < codes.values.length; i++) {
    const [x, y] = [i % SIZE.width, Math.floor(i / SIZE.width)];
    codes.values[i] = y >= 250 ? 0 : x < 200 ? 1 : 3;
  }
  const layer = (): Uint8Array => new Uint8Array(codes.values.length);
  return {
    segmenter: 'by hand',
    codes,
    probabilities: [layer(), layer(), layer(), layer(), layer()],
    blocked: byteMask(view.grid.width, view.grid.height),
    doubtful: null,
    underDwell: null,
    shareSigma: { bare: 0, stain: 0, rust: 0, scale: 0, coating: 0, residue: 0 },
  };
}
const view = plainView({ ...SIZE, stepMm: null }, () => [50, 0, 0]);
const share = (value: number): ReturnType<typeof measuredShare> => measuredShare(value, value - 0.01, value + 0.01);
const request: OverlayRequest = {
  title: 'After',
  photo: encodedRgbRaster(SIZE.width, SIZE.height, new Uint8Array(3 * SIZE.width * SIZE.height).fill(150)),
  view,
  segmentation: segmented(view),
  surface: {
    fractions: { bare: share(0.5), stain: share(0), rust: share(0.5), scale: share(0), coating: share(0) },
    residue: share(0.5),
    appearance: { lightness: null, textureContrast: null, heatTintFraction: 0 as never },
    unmeasuredFraction: 0.17 as never,
    worstUnitArea: null,
  },
  streaks: {
    found: false,
    kind: null,
    pitchMm: null,
    directionDegrees: null,
    contrastDeltaE00: 0,
    affectedFraction: 0 as never,
    travelSpeedMmPerS: null,
  },
  streakLines: [],
};

const labOf = ([r, g, b]: Uint8Array): ReturnType<typeof srgb8ToLabD50> => srgb8ToLabD50([r, g, b]);

describe('the looks of the classes', () => {
  it('differ in colour and, for who sees no colour, in pattern', () => {
    const looks = Object.values(CLASS_LOOKS);
    const ink = (look: (typeof looks)[number]): string =>
      Array.from({ length: 576 }, (_, i) => (look.isInked(i % 24, Math.floor(i / 24), 8) ? 1 : 0)).join('');
    for (const [i, first] of looks.entries()) {
      for (const second of looks.slice(i + 1)) {
        expect(ciede2000(srgb8ToLabD50(first.colour), srgb8ToLabD50(second.colour))).toBeGreaterThan(15);
        expect(ink(first)).not.toBe(ink(second));
      }
    }
  });

  it('leave the surface in view: every pattern has holes', () => {
    for (const { isInked } of Object.values(CLASS_LOOKS)) {
      const part =
        Array.from({ length: 4096 }, (_, i) => isInked(i % 64, Math.floor(i / 64), 8)).filter(Boolean).length / 4096;
      expect(part).toBeGreaterThan(0.1);
      expect(part).toBeLessThan(0.7);
    }
  });
});

describe('the class map over the photo', () => {
  const size = { ...SIZE, photoPxPerPixel: 1, unit: 8 };
  const pixels = paintClasses(view, request.segmentation, size);
  const alpha = (x: number, y: number): number => pixels[4 * (y * SIZE.width + x) + 3];
  const inkedPart = (x0: number, y0: number): number => {
    let inked = 0;
    for (let y = y0; y < y0 + 40; y++) for (let x = x0; x < x0 + 40; x++) if (alpha(x, y) > 0) inked++;
    return inked / 1600;
  };

  it('leaves bare steel clear, and inks what is not', () => {
    expect(inkedPart(50, 50)).toBe(0);
    expect(inkedPart(300, 100)).toBeGreaterThan(0.2);
    expect(inkedPart(300, 255)).toBeGreaterThan(0.2);
  });

  it('draws a rim where classes meet', () => {
    expect(Array.from({ length: 5 }, (_, k) => alpha(197 + k, 100)).some((a) => a === 255)).toBe(true);
  });

  it('dims what lies out of the zone', () => {
    const outside = plainView({ ...SIZE, stepMm: null }, () => [50, 0, 0]);
    outside.zone.values.fill(0, 0, 100 * SIZE.width);
    const dimmed = paintClasses(outside, request.segmentation, size);
    expect([...dimmed.subarray(0, 3)]).toEqual([0, 0, 0]);
    expect(dimmed[3]).toBeGreaterThan(60);
    expect(dimmed[3]).toBeLessThan(200);
  });
});

describe('the overlay picture', () => {
  let png: Buffer;
  beforeAll(async () => {
    png = await overlayPng(request);
  });

  it('is the photo with a legend below, opaque, in sRGB', async () => {
    const { width, height, channels, space } = await sharp(png).metadata();
    expect([width, space]).toEqual([SIZE.width, 'srgb']);
    expect(height).toBeGreaterThan(SIZE.height + 20);
    expect(channels).toBeGreaterThanOrEqual(3);
  });

  it('shows the photo as it was where steel is bare', async () => {
    const { data, info } = await sharp(png).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    const at = (x: number, y: number): number[] => [
      ...data.subarray(3 * (y * info.width + x), 3 * (y * info.width + x) + 3),
    ];
    const grey = { shown: labOf(Uint8Array.from(at(60, 60))), meant: labOf(Uint8Array.of(150, 150, 150)) };
    expect(ciede2000(grey.shown, grey.meant)).toBeLessThan(0.5);
    const rust = Array.from({ length: 400 }, (_, i) => at(290 + (i % 20), 90 + Math.floor(i / 20)).join());
    expect(new Set(rust).size).toBeGreaterThan(1);
  });

  it('keeps the colours of steel and classes on a grainy photo that it cannot hold in full', async () => {
    const random = seededRandom(11);
    const grainy = Uint8Array.from({ length: 3 * SIZE.width * SIZE.height }, (_, i) =>
      Math.round([120, 80, 60][i % 3] + 60 * (random() - 0.5)),
    );
    const photo = encodedRgbRaster(SIZE.width, SIZE.height, grainy);
    const { data, info } = await sharp(await overlayPng({ ...request, photo }))
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const differences: number[] = [];
    for (let y = 40; y < 240; y += 3) {
      for (let x = 20; x < 180; x += 3) {
        const [shown, meant] = [data.subarray(3 * (y * info.width + x)), grainy.subarray(3 * (y * SIZE.width + x))];
        differences.push(ciede2000(labOf(shown), labOf(meant)));
      }
    }
    // Differences below about 2.3 are just noticed side by side. Source: Mahy et al. 1994, from memory.
    expect(percentile(differences, 0.5)).toBeLessThan(2.3);
  });

  it('is the same for the same result', async () => {
    expect((await overlayPng(request)).equals(png)).toBe(true);
  });

  it('is at most 2000 px on its long side', async () => {
    const large = { width: 2600, height: 40 };
    const wide = plainView({ ...large, stepMm: null }, () => [50, 0, 0]);
    const codes = byteMask(large.width, large.height);
    codes.values.fill(1);
    const picture = await overlayPng({
      ...request,
      photo: encodedRgbRaster(large.width, large.height, new Uint8Array(3 * large.width * large.height).fill(99)),
      view: wide,
      segmentation: { ...request.segmentation, codes },
    });
    expect((await sharp(picture).metadata()).width).toBe(2000);
  });
});

describe('the class map as a picture', () => {
  it('keeps every code', async () => {
    const codes = Uint8Array.from({ length: 6 * 4 }, (_, i) => i % 6);
    const png = await picturePainter().classMap(codes, 6, 4);
    const read = await sharp(png).toColourspace('b-w').raw().toBuffer();
    expect([...read]).toEqual([...codes]);
    expect(await sharp(png).metadata()).toMatchObject({ width: 6, height: 4, channels: 1 });
  });
});
