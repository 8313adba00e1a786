import { describe, expect, it } from 'vitest';
import type { Plane } from '../../../../../server/measure/raster/plane.ts';
import { NOT_TOLD } from '../../../../../server/measure/evidence-trees.ts';
import { BAND_LOOKS } from '../../../../../server/measure/streaks/bands/band-candidate.ts';
import type { BandLook } from '../../../../../server/measure/streaks/bands/band-candidate.ts';
import type { BandSigns } from '../../../../../server/measure/streaks/bands/band-signs.ts';
import { signedCandidates } from '../../../../../server/measure/streaks/bands/detect-bands.ts';
import { nativeSurface } from '../../../../../server/measure/streaks/native-surface.ts';
import { bandSearches, bandGround, searchRasters } from '../../../../../server/measure/streaks/search-rasters.ts';
import { stripedSteel } from '../../../../support/striped-steel.ts';

const DIRECTION_DEGREES = 35;
const steel = stripedSteel(17, {
  widthMm: 110,
  heightMm: 95,
  stepMm: 0.35,
  isPlain: true,
  gridAngle: 0,
  stripes: {
    kind: 'dwell-band',
    directionDegrees: DIRECTION_DEGREES,
    contrast: 7,
    film: 'oxide',
    shape: 'square',
    softness: 0.2,
    bendPerMm: 0,
    unevenness: 0,
    lines: [
      { centreMm: -28, widthMm: 10 },
      { centreMm: 2, widthMm: 14 },
      { centreMm: 31, widthMm: 9 },
    ],
  },
});
const lack = (steel.truth?.profile ?? new Float32Array()).map((share) => Math.min(1, share));
const meanLack = lack.reduce((sum, share) => sum + share, 0) / lack.length;

/** Signs of the candidates that run as the bands do, with this lack of dwell told pixel by pixel. */
function signsOf(told: Float32Array | null, wanted?: BandLook, residue: Float32Array | null = null): BandSigns[] {
  const { grid, lab, usable } = steel;
  const planeOf = (values: Float32Array | null): Plane | null =>
    values === null ? null : { width: grid.width, height: grid.height, values };
  const native = nativeSurface(
    {
      grid,
      lab,
      usable,
      residueProbability: planeOf(residue),
      filmProbability: null,
      underDwellProbability: planeOf(told),
      photoPxPerUnit: steel.pxPerMm,
    },
    1,
  );
  const rasters = searchRasters(native, null);
  return signedCandidates(bandSearches(rasters), bandGround(rasters))
    .filter(({ candidate }) => {
      const turn = candidate.direction.frame.angle - (DIRECTION_DEGREES * Math.PI) / 180;
      return Math.abs(Math.sin(turn)) < 0.03;
    })
    .map(({ signs }) => signs)
    .filter((signs) => wanted === undefined || signs.look === BAND_LOOKS.indexOf(wanted));
}

describe('what told lack of dwell says of bands', () => {
  it('is marked as not told where nobody told it', () => {
    const found = signsOf(null);
    expect(found.length).toBeGreaterThan(0);
    for (const { dwellRise, dwellMean } of found) {
      expect([dwellRise, dwellMean]).toEqual([NOT_TOLD, NOT_TOLD]);
    }
  });

  it('stands beside the share of residue in the zone, which may not be told either', () => {
    expect(signsOf(lack, 'whole')[0].residueShare).toBe(NOT_TOLD);
    const even = new Float32Array(lack.length).fill(0.1);
    for (const { residueShare } of signsOf(lack, undefined, even)) {
      expect(residueShare).toBeCloseTo(0.1, 6);
    }
  });

  it('is a rise in the dark bands that lacked dwell, and its mean over the zone', () => {
    const found = signsOf(lack, 'whole');
    expect(found.length).toBeGreaterThan(0);
    for (const { dwellRise, dwellMean } of found) {
      expect(dwellRise).toBeGreaterThan(0.8);
      expect(dwellRise).toBeLessThanOrEqual(1);
      expect(Math.abs(dwellMean - meanLack)).toBeLessThan(0.02);
    }
  });

  it('is half the rise and half the mean where half as much is told', () => {
    const whole = signsOf(lack, 'whole');
    const half = signsOf(
      lack.map((share) => share / 2),
      'whole',
    );
    expect(half).toHaveLength(whole.length);
    for (const [n, { dwellRise, dwellMean }] of half.entries()) {
      expect(dwellRise).toBeCloseTo(whole[n].dwellRise / 2, 5);
      expect(dwellMean).toBeCloseTo(whole[n].dwellMean / 2, 5);
    }
  });

  it('is a fall where the ground between the bands lacked dwell', () => {
    const found = signsOf(
      lack.map((share) => 1 - share),
      'whole',
    );
    expect(found.length).toBeGreaterThan(0);
    for (const { dwellRise } of found) {
      expect(dwellRise).toBeLessThan(-0.8);
    }
  });

  it('is no rise where all of the zone lacked the same', () => {
    const found = signsOf(new Float32Array(lack.length).fill(0.25), 'whole');
    expect(found.length).toBeGreaterThan(0);
    for (const { dwellRise, dwellMean } of found) {
      expect(dwellRise).toBeCloseTo(0, 6);
      expect(dwellMean).toBeCloseTo(0.25, 6);
    }
  });

  it('shows the bands in a look of its own, and leaves other looks as they were', () => {
    expect(signsOf(null, 'under-dwell')).toHaveLength(0);
    const own = signsOf(lack, 'under-dwell');
    expect(own.length).toBeGreaterThan(0);
    for (const { dwellRise } of own) {
      expect(dwellRise).toBeGreaterThan(0.8);
    }
    const seen = signsOf(lack, 'whole').map((signs) => ({ ...signs, dwellRise: NOT_TOLD, dwellMean: NOT_TOLD }));
    expect(seen).toEqual(signsOf(null, 'whole'));
  });
});
