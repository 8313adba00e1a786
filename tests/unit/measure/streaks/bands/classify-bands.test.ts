import { describe, expect, it } from 'vitest';
import { areUneven, classifyBands } from '../../../../../server/measure/streaks/bands/classify-bands.ts';
import type { DarkRun } from '../../../../../server/measure/streaks/bands/profile-levels.ts';

const run = (centreMm: number, widthMm: number, isCut = false): DarkRun => ({
  startMm: centreMm - widthMm / 2,
  endMm: centreMm + widthMm / 2,
  isCut,
});
describe('what made bands', () => {
  it('takes narrow lines far apart for seams', () => {
    const { kind, lattice } = classifyBands([run(-58, 4), run(1, 4), run(61, 5)], 0.1, null);
    expect(kind).toBe('swath-seam');
    expect(lattice?.spacing).toBeCloseTo(59.5, 9);
  });

  it('takes a single narrow line for a seam without a spacing', () => {
    expect(classifyBands([run(10, 3)], 0.02, null)).toEqual({ kind: 'swath-seam', lattice: null });
  });

  it('takes even stripes of one width for lines of single strokes', () => {
    const runs = [-40, -20, 0, 20, 40].map((place) => run(place, 9));
    expect(classifyBands(runs, 0.45, null).kind).toBe('line-pitch');
  });

  it('takes wide or uneven bands for bands of the hand', () => {
    expect(classifyBands([run(0, 25)], 0.15, null).kind).toBe('dwell-band');
    expect(classifyBands([run(-40, 9), run(-12, 14), run(3, 8), run(44, 18)], 0.4, null).kind).toBe('dwell-band');
  });

  it('takes lines that follow one another closely, or a wide one among them, for bands of the hand', () => {
    expect(classifyBands([run(-30, 2), run(0, 6), run(6, 2), run(12, 5)], 0.14, null).kind).toBe('dwell-band');
    expect(classifyBands([run(-42, 22), run(41, 8)], 0.18, null).kind).toBe('dwell-band');
    expect(classifyBands([run(-42, 22, true), run(0, 8), run(41, 8)], 0.18, null).kind).toBe('dwell-band');
  });

  it('tells no spacing of seams where one of them is torn in two', () => {
    const torn = [run(-58, 4), run(-46, 3), run(61, 5)];
    expect(classifyBands(torn, 0.1, null)).toEqual({ kind: 'swath-seam', lattice: null });
    expect(classifyBands(torn, 0.3, null).kind).toBe('dwell-band');
  });

  it('are seams where they lie as far apart as the line is wide, also where one between does not show', () => {
    const lines = [run(-60, 5), run(-10, 5), run(90, 6)];
    const { kind, lattice } = classifyBands(lines, 0.1, 50);
    expect(kind).toBe('swath-seam');
    // Ranks 0, 1 and 3 at -60, -10 and 90.
    expect(lattice?.spacing).toBeCloseTo(50, 9);
    expect(classifyBands(lines, 0.1, null).kind).toBe('swath-seam');
    expect(classifyBands(lines, 0.1, 110).kind).toBe('dwell-band');
  });

  it('are seams of a narrow line nearer to each other than else', () => {
    const lines = [run(-44, 3), run(-22, 2), run(1, 3), run(40, 2)];
    expect(classifyBands(lines, 0.1, 22).kind).toBe('swath-seam');
    expect(classifyBands(lines, 0.1, null).kind).toBe('dwell-band');
  });

  it('are even stripes although some are torn to shreds, when they are many', () => {
    const lines = [-64, -48, -32, -16, 0, 16].map((place, n) => run(place, n % 2 === 0 ? 7 : 1.5));
    expect(classifyBands(lines, 0.3, null).kind).toBe('line-pitch');
    expect(classifyBands(lines.slice(0, 4), 0.3, null).kind).toBe('dwell-band');
    expect(areUneven([...lines.slice(0, 2), ...lines.slice(3)], 16)).toBe(false);
  });

  it('sees the same in the mirror', () => {
    const runs = [run(-50, 4), run(2, 5), run(53, 4)];
    const mirrored = [...runs].reverse().map((r) => ({ startMm: -r.endMm, endMm: -r.startMm, isCut: r.isCut }));
    expect(classifyBands(mirrored, 0.1, null).kind).toBe(classifyBands(runs, 0.1, null).kind);
  });
});

describe('bands that a wave was found in', () => {
  it('are even stripes when one of them is missing', () => {
    expect(
      areUneven(
        [-40, -20, 20, 40].map((place) => run(place, 9)),
        20,
      ),
    ).toBe(false);
  });

  it('are uneven when their places or widths stray', () => {
    expect(
      areUneven(
        [-40, -13, 20, 36, 61].map((place) => run(place, 9)),
        20,
      ),
    ).toBe(true);
    expect(areUneven([run(-20, 4), run(0, 9), run(20, 14)], 20)).toBe(true);
  });

  it('say nothing when there are two', () => {
    expect(areUneven([run(0, 3), run(27, 14)], 20)).toBe(false);
  });
});
