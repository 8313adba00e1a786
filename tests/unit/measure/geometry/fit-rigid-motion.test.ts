import { describe, expect, it } from 'vitest';
import { fitRigidMotion, moveRigidly } from '../../../../server/measure/geometry/fit-rigid-motion.ts';
import type { RigidMotion, VertexPair } from '../../../../server/measure/geometry/fit-rigid-motion.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const motion: RigidMotion = { angle: 0.4, shift: [37, -12] };

function pairsUnder(count: number, noiseMm: number, seed = 5): VertexPair[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => {
    const from = [300 * random(), 200 * random()] as const;
    const [x, y] = moveRigidly(motion, from);
    return { from, to: [x + noiseMm * seededNormal(random), y + noiseMm * seededNormal(random)] };
  });
}

describe('a rigid motion of the plane', () => {
  it('turns from x towards y, then shifts', () => {
    const [x, y] = moveRigidly({ angle: Math.PI / 2, shift: [10, 0] }, [3, 4]);
    expect(x).toBeCloseTo(6, 12);
    expect(y).toBeCloseTo(3, 12);
  });

  it('is recovered exactly from exact pairs', () => {
    const fit = fitRigidMotion(pairsUnder(40, 0), 1);
    expect(fit?.motion.angle).toBeCloseTo(0.4, 9);
    expect(fit?.motion.shift[0]).toBeCloseTo(37, 6);
    expect(fit?.motion.shift[1]).toBeCloseTo(-12, 6);
    expect(fit?.inliers).toHaveLength(40);
    expect(fit?.rms).toBeLessThan(1e-9);
  });

  it('is recovered among twice as many pairs that are wrong', () => {
    const random = seededRandom(9);
    const wrong = Array.from({ length: 80 }, (): VertexPair => ({
      from: [300 * random(), 200 * random()],
      to: [300 * random(), 200 * random()],
    }));
    const fit = fitRigidMotion([...wrong, ...pairsUnder(40, 0.2)], 1);
    expect(fit?.motion.angle).toBeCloseTo(0.4, 2);
    const [x, y] = fit === null ? [NaN, NaN] : moveRigidly(fit.motion, [150, 100]);
    const [ex, ey] = moveRigidly(motion, [150, 100]);
    expect(Math.hypot(x - ex, y - ey)).toBeLessThan(0.3);
    expect(fit?.inliers.filter((i) => i >= 80).length).toBeGreaterThanOrEqual(38);
    expect(fit?.inliers.filter((i) => i < 80).length).toBeLessThanOrEqual(3);
  });

  it('says how far agreeing pairs lie off: about the noise that was put in', () => {
    const fit = fitRigidMotion(pairsUnder(200, 0.3), 1.5);
    // Rms distance of two coordinates of 0.3 mm each.
    expect(fit?.rms).toBeGreaterThan(0.35);
    expect(fit?.rms).toBeLessThan(0.47);
  });

  it('is not claimed for stretched or unrelated pairs, too few, or none', () => {
    const stretched = pairsUnder(40, 0).map(({ from, to }) => ({ from, to: [1.2 * to[0], 1.2 * to[1]] as const }));
    expect(fitRigidMotion(stretched, 1)?.inliers.length ?? 0).toBeLessThan(10);
    expect(fitRigidMotion(pairsUnder(2, 0), 1)).toBeNull();
    expect(fitRigidMotion([], 1)).toBeNull();
  });

  it('is the same for the same pairs', () => {
    expect(fitRigidMotion(pairsUnder(60, 0.4), 1)).toEqual(fitRigidMotion(pairsUnder(60, 0.4), 1));
  });
});
