import { describe, expect, it } from 'vitest';
import { signalAcross } from '../../../../../server/measure/streaks/bands/explained-share.ts';
import type { SignalLook } from '../../../../../server/measure/streaks/bands/explained-share.ts';
import { likelyTurn } from '../../../../../server/measure/streaks/bands/likely-turn.ts';
import { extentOf } from '../../../../../server/measure/streaks/bands/strip-profiles.ts';
import { seededRandom } from '../../../../support/seeded-random.ts';
import { SIGNAL_STEP_MM, streakSignalOf } from '../../../../support/streak-signal-of.ts';

const SIDE = 240;
const DEGREE = Math.PI / 180;

/** A square of 120 mm with two dark bands of one depth at an angle, in noise of a deviation. */
function lookAt(degrees: number, { depth, noise, seed }: { depth: number; noise: number; seed: number }): SignalLook {
  const random = seededRandom(seed);
  const half = (SIDE * SIGNAL_STEP_MM) / 2;
  const signal = streakSignalOf(SIDE, SIDE, (px, py) => {
    const across = (py - half) * Math.cos(degrees * DEGREE) - (px - half) * Math.sin(degrees * DEGREE);
    const isDark = Math.abs(across - 9) < 5 || Math.abs(across + 20) < 3;
    return (isDark ? -depth : 0) + noise * Math.sqrt(12) * (random() - 0.5);
  });
  return { signal, extent: extentOf(signal), mix: [-1, 0], binMm: 1.2 };
}
const frameAt = (degrees: number) => ({ angle: degrees * DEGREE, bendPerMm: 0 });

describe('the share that a profile explains', () => {
  const across = signalAcross(lookAt(40, { depth: 4, noise: 0, seed: 1 }));

  it('is nearly all along clean bands, and less askew', () => {
    expect(across.explainedBy(frameAt(40))).toBeGreaterThan(0.9);
    expect(across.explainedBy(frameAt(50))).toBeLessThan(0.7);
    expect(across.explainedBy(frameAt(130))).toBeLessThan(0.1);
    expect(Math.abs(across.areaMm2 / (SIDE * SIGNAL_STEP_MM) ** 2 - 1)).toBeLessThan(1e-6);
  });

  it('is that of bands in the whole where there is noise', () => {
    // Bands of 16 in 120 mm, no more than 170 mm long: their variance over theirs and that of the noise.
    const noisy = signalAcross(lookAt(0, { depth: 4, noise: 4, seed: 2 }));
    const share = 16 / 120;
    const variance = share * (1 - share) * 16;
    expect(Math.abs(noisy.explainedBy(frameAt(0)) - variance / (variance + 16))).toBeLessThan(0.03);
  });
});

describe('the likely turn', () => {
  // What was told beforehand counts, too: large turns are not undone to the full.
  it.each([-3, -1.2, 0, 0.8, 2.5])('undoes a frame that is %d degrees off by four fifths or more', (off) => {
    const turn = likelyTurn([lookAt(64, { depth: 3, noise: 2, seed: 3 })], frameAt(64 + off)) / DEGREE;
    expect(Math.abs(turn + off)).toBeLessThan(0.1 + Math.abs(off) / 5);
  });

  it('leaves a frame as it is where nothing is drawn through, or nobody looks', () => {
    expect(Math.abs(likelyTurn([lookAt(64, { depth: 0, noise: 2, seed: 4 })], frameAt(30))) / DEGREE).toBeLessThan(0.5);
    expect(likelyTurn([], frameAt(30))).toBe(0);
  });

  it('lets the clear look speak beside a poor one', () => {
    const looks = [lookAt(64, { depth: 3, noise: 1, seed: 5 }), lookAt(20, { depth: 0, noise: 2, seed: 6 })];
    expect(Math.abs(likelyTurn(looks, frameAt(66)) / DEGREE + 2)).toBeLessThan(0.5);
  });
});
