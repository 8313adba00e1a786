import { describe, expect, it } from 'vitest';
import { hiddenStrokes } from '../../../../../server/measure/streaks/waves/hidden-strokes.ts';
import type { WaveVector } from '../../../../../server/measure/streaks/waves/stripe-blocks.ts';
import { stripeSpectrum } from '../../../../../server/measure/streaks/waves/stripe-spectrum.ts';
import { dice } from '../../../../support/lattice-noise.ts';
import { streakSignalOf } from '../../../../support/streak-signal-of.ts';

const SIDE = 240;

/** Wave across so many degrees, of this size. */
interface Part {
  readonly pitchMm: number;
  readonly degrees: number;
  readonly size: number;
}

const waveOf = ({ pitchMm, degrees }: Omit<Part, 'size'>): WaveVector => ({
  kx: Math.cos((degrees * Math.PI) / 180) / pitchMm,
  ky: Math.sin((degrees * Math.PI) / 180) / pitchMm,
});

/** What is told where the first part is known. */
function told(parts: readonly Part[]): WaveVector | null {
  const random = dice(9);
  const waves = parts.map((part) => ({ ...waveOf(part), size: part.size }));
  const signal = streakSignalOf(SIDE, SIDE, (x, y) => {
    const sum = waves.reduce((all, { kx, ky, size }) => all + size * Math.cos(2 * Math.PI * (x * kx + y * ky)), 0);
    return sum + 0.3 * random.normal();
  });
  const spectrum = stripeSpectrum(signal);
  return hiddenStrokes(waveOf(parts[0]), spectrum, [spectrum]);
}

const FAMILY: Part = { pitchMm: 14, degrees: 30, size: 1 };

describe('strokes of a zigzag of which one family is known', () => {
  // Source: geometry of the zig-zag. Families of strokes p apart that lean by a are 2 p cos(a) apart.
  it.each([
    { pitchMm: 14, degrees: 56, size: 0.9 },
    { pitchMm: 14, degrees: -20, size: 0.75 },
    { pitchMm: 13, degrees: 80, size: 1.2 },
  ])('lie where both families have their sum: the other at $degrees degrees', (other) => {
    const strokes = told([FAMILY, other]) ?? { kx: 0, ky: 0 };
    const [p, q] = [waveOf(FAMILY), waveOf(other)];
    expect(Math.hypot(strokes.kx - p.kx - q.kx, strokes.ky - p.ky - q.ky) * 7).toBeLessThan(0.02);
  });

  it.each<[string, Part[]]>([
    ['a wave alone', []],
    ['one too weak beside it', [{ pitchMm: 14, degrees: 56, size: 0.5 }]],
    ['one of another spacing', [{ pitchMm: 9, degrees: 56, size: 1 }]],
    ['crossing passes', [{ pitchMm: 14, degrees: 120, size: 1 }]],
    ['nearly the same wave', [{ pitchMm: 14, degrees: 38, size: 1 }]],
  ])('are not told of %s', (_, others) => {
    expect(told([FAMILY, ...others])).toBeNull();
  });

  const strokes = { pitchMm: 10, degrees: 30 };
  const longer = [
    { pitchMm: 18.8, degrees: 50, size: 0.8 },
    { pitchMm: 18.8, degrees: 10, size: 0.8 },
  ];
  const sides = [
    { pitchMm: 9.8, degrees: 40, size: 1 },
    { pitchMm: 9.8, degrees: 20, size: 1 },
  ];

  it('lie in the middle of two waves that have longer ones: those are the families', () => {
    const middle = told([...sides, ...longer]) ?? { kx: 0, ky: 0 };
    const wanted = waveOf(strokes);
    expect(Math.hypot(middle.kx - wanted.kx, middle.ky - wanted.ky) * strokes.pitchMm).toBeLessThan(0.03);
  });

  it('are the wave itself that stands between two sides', () => {
    expect(told([{ ...strokes, size: 1 }, ...sides, ...longer])).toBeNull();
  });
});
