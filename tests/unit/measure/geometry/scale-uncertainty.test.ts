import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../../../server/domain/index.ts';
import { fitHomography } from '../../../../server/measure/geometry/fit-homography.ts';
import { jacobianAt } from '../../../../server/measure/geometry/homography.ts';
import { scaleUncertainty } from '../../../../server/measure/geometry/scale-uncertainty.ts';
import { placedCard } from '../../../support/placed-card.ts';
import { pinholeView } from '../../../support/picture-of-card.ts';
import { project } from '../../../../server/measure/geometry/homography.ts';
import { photoPoint } from '../../../../server/domain/index.ts';
import type { LocatedCard } from '../../../../server/measure/card/locate-card.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const photo = { width: 1600, height: 1200 };
const toPhoto = pinholeView({ ...photo, cardWidthPx: 500, tilt: 0.3, azimuth: 0.8, roll: 0.1, focalPx: 1170 });
const SIGMA_PX = 0.15;
/** Sixteen corners of four markers. */
const CORNERS = [3, 24, 128.4, 149.4].flatMap((x) => [3, 24, 77.6, 98.6].map((y) => surfacePoint(x, y)));

function locatedWith(bendSigma: number): LocatedCard {
  const fit = fitHomography(CORNERS.map((from) => ({ from, to: project(toPhoto, from) })));
  if (fit === null) throw new Error('expected a fit');
  return {
    ...placedCard(fit.map, photo),
    covariance: fit.unitCovariance.map((v) => v * SIGMA_PX ** 2),
    bendSigma,
  };
}
const scaleAt = (map: typeof toPhoto, x: number, y: number): number => {
  const [a, b, c, d] = jacobianAt(map, x, y);
  return Math.sqrt(Math.abs(a * d - b * c));
};

describe('the uncertainty of scale', () => {
  it('grows with the distance from the card', () => {
    const located = locatedWith(0);
    const sigmas = [76, 180, 280, 400].map((x) => scaleUncertainty(located, surfacePoint(x, 50)));
    for (let i = 1; i < sigmas.length; i++) expect(sigmas[i]).toBeGreaterThan(1.3 * sigmas[i - 1]);
  });

  it('is what repeated noise on the corners shows', () => {
    const random = seededRandom(21);
    const located = locatedWith(0);
    for (const [x, y] of [
      [76, 50],
      [260, 20],
      [76, 240],
    ] as const) {
      const runs = 200;
      let square = 0;
      for (let run = 0; run < runs; run++) {
        const pairs = CORNERS.map((from) => {
          const [u, v] = project(toPhoto, from);
          return { from, to: photoPoint(u + SIGMA_PX * seededNormal(random), v + SIGMA_PX * seededNormal(random)) };
        });
        const fit = fitHomography(pairs);
        const ratio = fit === null ? NaN : scaleAt(fit.map, x, y) / scaleAt(toPhoto, x, y);
        square += Math.log(ratio) ** 2 / runs;
      }
      const shown = Math.sqrt(square);
      expect(scaleUncertainty(located, surfacePoint(x, y)) / shown).toBeGreaterThan(0.85);
      expect(scaleUncertainty(located, surfacePoint(x, y)) / shown).toBeLessThan(1.15);
    }
  });

  it('grows with what is unknown about the lens, far from the card only', () => {
    const [known, unknown] = [locatedWith(0), locatedWith(0.005)];
    const { widthMm, heightMm } = known.card;
    const middle = surfacePoint(widthMm / 2, heightMm / 2);
    expect(scaleUncertainty(unknown, middle)).toBeCloseTo(scaleUncertainty(known, middle), 12);
    const far = surfacePoint(280, 50);
    expect(scaleUncertainty(unknown, far)).toBeGreaterThan(scaleUncertainty(known, far) + 1e-4);
  });

  it('is none when map and lens are known exactly', () => {
    expect(scaleUncertainty(placedCard(toPhoto, photo), surfacePoint(300, 80))).toBe(0);
  });
});
