import { describe, expect, it } from 'vitest';
import { blockCoherence, neighbourProduct } from '../../../../../server/measure/streaks/waves/block-coherence.ts';
import { dice } from '../../../../support/lattice-noise.ts';

const [ROWS, COLUMNS] = [12, 15];

function cells(phaseAt: (row: number, column: number) => number): Parameters<typeof blockCoherence>[0] {
  const phases = Array.from({ length: ROWS * COLUMNS }, (_, i) => phaseAt(Math.floor(i / COLUMNS), i % COLUMNS));
  return {
    alongCount: ROWS,
    acrossCount: COLUMNS,
    weight: new Float64Array(phases.length).fill(1),
    re: Float64Array.from(phases, Math.cos),
    im: Float64Array.from(phases, Math.sin),
  };
}

describe('how cells carry on each other', () => {
  it('is whole where the phase advances evenly, and the turn is the advance', () => {
    const wave = cells((row, column) => 0.3 * row - 0.5 * column);
    expect(blockCoherence(wave).along).toBeCloseTo(1, 9);
    expect(blockCoherence(wave).acrossTwice).toBeCloseTo(1, 9);
    expect(neighbourProduct(wave, 1, 0).turn).toBeCloseTo(0.3, 9);
    expect(neighbourProduct(wave, 0, 1).turn).toBeCloseTo(-0.5, 9);
  });

  // By chance a mean of n unit vectors has the size sqrt(pi / (4 n)), 0.07 for 168 pairs. Source: Rayleigh's random walk (from memory).
  it('is near nothing where phases are random', () => {
    const random = dice(4);
    const { across, along } = blockCoherence(cells(() => random.between(0, 2 * Math.PI)));
    expect(across).toBeLessThan(0.25);
    expect(along).toBeLessThan(0.25);
  });

  it('is whole along stripes and nothing across them for lines of a brush', () => {
    const random = dice(9);
    const columns = Array.from({ length: COLUMNS }, () => random.between(0, 2 * Math.PI));
    const coherence = blockCoherence(cells((_row, column) => columns[column]));
    expect(coherence.along).toBeCloseTo(1, 9);
    expect(coherence.across).toBeLessThan(0.6);
  });

  it('leaves out cells without weight', () => {
    const wave = cells(() => 0);
    wave.weight.fill(0);
    expect(blockCoherence(wave)).toEqual({ along: 0, across: 0, acrossTwice: 0, pairs: 0 });
  });
});
