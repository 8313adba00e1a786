import { describe, expect, it } from 'vitest';
import { photoPoint, surfacePoint } from '../../../../server/domain/index.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from '../../../../server/measure/card/card-grid.ts';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';
import { reliefMotion } from '../../../../server/measure/card/card-relief.ts';
import { fitPrintedSquares } from '../../../../server/measure/card/fit-printed-squares.ts';
import type { SquareCorner } from '../../../../server/measure/card/fit-printed-squares.ts';
import { squareCorners } from '../../../../server/measure/card/refine-square.ts';
import { project } from '../../../../server/measure/geometry/homography.ts';
import { pinholeView } from '../../../support/picture-of-card.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const photo = { width: 2400, height: 1800 };
const card = { widthMm: CARD_WIDTH_MM, heightMm: CARD_HEIGHT_MM };
const toPhoto = pinholeView({ ...photo, cardWidthPx: 900, tilt: 0.6, azimuth: 1.2, roll: 0.2, focalPx: 0.73 * 2400 });
const OUTWARDS = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const;

interface Disturbance {
  readonly noisePx?: number;
  readonly growthPx?: number;
  readonly sagMm?: number;
  readonly bend?: number;
}

/** Corners of all markers and patches as a camera would see them, disturbed. */
function cornersUnder({ noisePx = 0, growthPx = 0, sagMm = 0, bend = 0 }: Disturbance): SquareCorner[] {
  const random = seededRandom(17);
  const layout = referenceCard();
  const motion = reliefMotion(toPhoto, photo);
  return [...layout.markers, ...layout.patches].flatMap(({ area }) =>
    squareCorners(area).map((from, k): SquareCorner => {
      const [u, v] = project(toPhoto, from);
      const x = (2 * from[0]) / card.widthMm - 1;
      const [du, dv] = motion(from).map((d) => d * sagMm * (1 - x * x));
      // Where the lens puts an ideal pixel: by iteration on d (1 + bend d^2) = r.
      const [dx, dy] = [u + du - photo.width / 2, v + dv - photo.height / 2];
      let factor = 1;
      for (let i = 0; i < 30; i++) factor = 1 / (1 + (bend * ((dx * factor) ** 2 + (dy * factor) ** 2)) / 1500 ** 2);
      const growth = OUTWARDS[k];
      const noise = (): number => noisePx * seededNormal(random);
      return {
        from,
        to: photoPoint(
          photo.width / 2 + dx * factor + growthPx * growth[0] + noise(),
          photo.height / 2 + dy * factor + growthPx * growth[1] + noise(),
        ),
        growth,
      };
    }),
  );
}

function fitUnder(disturbance: Disturbance): NonNullable<ReturnType<typeof fitPrintedSquares>> {
  const fit = fitPrintedSquares(cornersUnder(disturbance), { photo, card });
  if (fit === null) throw new Error('expected a fit');
  return fit;
}

/** How far the fitted plane misses the true one at a point, px. */
function missPx(fit: ReturnType<typeof fitUnder>, x: number, y: number): number {
  const [u, v] = project(fit.plane.map, surfacePoint(x, y));
  const [tu, tv] = project(toPhoto, surfacePoint(x, y));
  return Math.hypot(u - tu, v - tv);
}

describe('the fit to the printed squares', () => {
  it('recovers the plane map from undisturbed corners', () => {
    const fit = fitUnder({});
    expect(missPx(fit, 0, 0)).toBeLessThan(1e-3);
    expect(missPx(fit, 300, 150)).toBeLessThan(1e-2);
    expect(fit.sagMm).toBeLessThan(1e-3);
    expect(Math.abs(fit.lens.bend)).toBeLessThan(1e-5);
  });

  it('takes out that all squares look too large, as overexposure makes them', () => {
    const fit = fitUnder({ growthPx: 1.5, noisePx: 0.05 });
    expect(missPx(fit, 0, 0)).toBeLessThan(0.1);
    expect(missPx(fit, 250, 50)).toBeLessThan(0.3);
  });

  it('measures the sag of a loose card and still gives the plane of its ends', () => {
    const fit = fitUnder({ sagMm: 2, noisePx: 0.05 });
    expect(fit.sagMm).toBeCloseTo(2, 0);
    expect(missPx(fit, 0, 0)).toBeLessThan(1.5);
    expect(missPx(fit, CARD_WIDTH_MM, CARD_HEIGHT_MM)).toBeLessThan(1.5);
  });

  it('recovers part of the bend of a lens and says what stays unknown', () => {
    const fit = fitUnder({ bend: 0.006, noisePx: 0.05 });
    expect(Math.abs(fit.lens.bend - 0.006)).toBeLessThan(3 * fit.bendSigma);
    expect(fit.bendSigma).toBeLessThan(0.005);
  });

  it('knows the noise of its corners', () => {
    // The rms distance of a corner: two coordinates of 0.2 px.
    const { cornerSigmaPx } = fitUnder({ noisePx: 0.2 });
    expect(cornerSigmaPx).toBeGreaterThan(0.2);
    expect(cornerSigmaPx).toBeLessThan(0.36);
  });

  it('leaves out a corner that is far off', () => {
    const corners = cornersUnder({ noisePx: 0.05 }).map((corner, i) =>
      i === 37 ? { ...corner, to: photoPoint(corner.to[0] + 9, corner.to[1] - 6) } : corner,
    );
    const fit = fitPrintedSquares(corners, { photo, card });
    expect(fit?.cornerSigmaPx).toBeLessThan(0.1);
    expect(fit === null ? NaN : missPx(fit, 76, 50)).toBeLessThan(0.05);
  });

  it('needs four corners', () => {
    expect(fitPrintedSquares(cornersUnder({}).slice(0, 3), { photo, card })).toBeNull();
    expect(fitPrintedSquares([], { photo, card })).toBeNull();
  });
});
