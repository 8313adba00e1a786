import { describe, expect, it } from 'vitest';
import type { Warning } from '../../../server/domain/index.ts';
import type { SurfaceReading } from '../../../server/measure/read-surface.ts';
import { readingWarnings } from '../../../server/measure/reading-warnings.ts';

/** A reading about which there is nothing to say, but for how far an edge is smeared and how large a pixel is. */
function reading(blurMm: number | undefined, pxPerMm = 5): SurfaceReading {
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
    view: { placed: { pxPerUnit: pxPerMm } },
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
});
