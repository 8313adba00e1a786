import { describe, expect, it } from 'vitest';
import type { Warning } from '../../../server/domain/index.ts';
import { BLOCKED } from '../../../server/measure/geometry/rectify-photo.ts';
import type { SurfaceReading } from '../../../server/measure/read-surface.ts';
import { readingWarnings } from '../../../server/measure/reading-warnings.ts';

/** A reading about which there is nothing to say, but for how far an edge is smeared, how large a pixel is, and how much of 100 pixels is clipped. */
function reading(blurMm: number | undefined, pxPerMm = 5, clipped = 0): SurfaceReading {
  const layer = (value: (i: number) => number): object => ({
    values: Uint8Array.from({ length: 100 }, (_, i) => value(i)),
  });
  return {
    photo: {
      card: {
        found: true,
        mmPerPixel: 1 / pxPerMm,
        tiltDegrees: 5,
        colourErrorDeltaE00: { median: 1, p95: 2, max: 3 },
        blurMm,
      },
    },
    view: { placed: { pxPerUnit: pxPerMm }, zone: layer(() => 1) },
    segmentation: {
      codes: layer((i) => (i === 0 ? 0 : 1)),
      blocked: layer((i) => (i <= clipped ? BLOCKED.clipped : 0)),
    },
    surface: { worstUnitArea: { value: 0.1, low: 0, high: 0.2 }, unmeasuredFraction: 0 },
  } as unknown as SurfaceReading;
}
const codes = (warnings: readonly Warning[]): string[] => warnings.map(({ code }) => code);

describe('what the reader of a photo’s numbers is told', () => {
  it('is nothing when nothing is amiss', () => {
    expect(readingWarnings(reading(0.3), 'after')).toEqual([]);
    expect(readingWarnings(reading(undefined), 'after')).toEqual([]);
  });

  it('is how far a soft photo smears an edge, and what to do', () => {
    const [warning] = readingWarnings(reading(1.62), 'after');
    expect(warning.code).toBe('blurred');
    expect(warning.message).toMatch(/^after photo: blurred over 1\.6 mm.*hold still/);
  });

  it('tells a soft photo from one with large pixels', () => {
    expect(codes(readingWarnings(reading(0.4, 1.5), 'after'))).toEqual(['coarse']);
    expect(codes(readingWarnings(reading(2, 5), 'after'))).toEqual(['blurred']);
  });

  it('is how much was too bright for its colour to be known, though it has a class', () => {
    const [warning] = readingWarnings(reading(0.3, 5, 35), 'after');
    expect(warning).toMatchObject({
      code: 'much-clipped',
      message: expect.stringContaining('35 % of the zone') as string,
    });
    expect(readingWarnings(reading(0.3, 5, 15), 'after')).toEqual([]);
  });
});
