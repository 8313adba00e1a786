import { describe, expect, it } from 'vitest';
import { fitStripePhase } from '../../../../../server/measure/streaks/waves/stripe-phase.ts';
import type { StripeBlocks } from '../../../../../server/measure/streaks/waves/stripe-blocks.ts';
import { dice } from '../../../../support/lattice-noise.ts';

const [ROWS, COLUMNS] = [14, 18];

/** Cells with a phase of c0 + c1 s + c2 t + c3 s^2 + c4 s t + c5 t^2 from the middle, and noise. */
function blocksWith(coefficients: readonly number[], noise: number): StripeBlocks {
  const random = dice(11);
  const count = ROWS * COLUMNS;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const s = Math.floor(i / COLUMNS) - (ROWS - 1) / 2;
    const t = (i % COLUMNS) - (COLUMNS - 1) / 2;
    const phase = [1, s, t, s * s, s * t, t * t].reduce((sum, term, k) => sum + term * coefficients[k], 0);
    re[i] = 2 * Math.cos(phase) + noise * random.normal();
    im[i] = 2 * Math.sin(phase) + noise * random.normal();
  }
  return {
    wave: { kx: 0.25, ky: 0 },
    along0: 0,
    across0: 0,
    alongCount: ROWS,
    acrossCount: COLUMNS,
    alongMm: 12,
    acrossMm: 8,
    weight: new Float64Array(count).fill(1),
    re,
    im,
    colour: [1, 0],
  };
}

describe('the phase of stripes over the zone', () => {
  it.each([
    ['none', [0.4, 0, 0, 0, 0, 0]],
    ['another direction and pitch', [0.2, 0.6, -0.8, 0, 0, 0]],
    ['a bend', [1, 0.1, 0.2, 0.03, 0, 0]],
    ['a bend and a drift of the pitch', [-0.7, -0.3, 0.1, -0.02, 0.004, 0.01]],
  ])('is found again with %s', (_name, coefficients) => {
    const fit = fitStripePhase(blocksWith(coefficients, 0.4));
    expect(fit.residualCycles).toBeLessThan(0.06);
    for (const k of [1, 2, 3, 4, 5]) expect(Math.abs(fit.coefficients[k] - coefficients[k])).toBeLessThan(0.02);
  });

  it('leaves cells whose phases agree', () => {
    const { re, im } = fitStripePhase(blocksWith([0.3, 0.4, 0.1, 0.01, 0, 0], 0));
    for (let i = 0; i < re.length; i++) expect(Math.abs(Math.atan2(im[i], re[i]))).toBeLessThan(0.15);
  });
});
