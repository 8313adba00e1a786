import { describe, expect, it } from 'vitest';
import { steadiest } from '../../../../../server/measure/streaks/waves/periodic-stripes.ts';

const waveOf = (pitchMm: number, degrees: number): { pitchMm: number; wave: { kx: number; ky: number } } => ({
  pitchMm,
  wave: {
    kx: Math.cos((degrees * Math.PI) / 180) / pitchMm,
    ky: Math.sin((degrees * Math.PI) / 180) / pitchMm,
  },
});

/** As found on a seeded zone whose strokes lie 11.77 mm apart. */
describe('of waves alike', () => {
  const strayed = { ...waveOf(12.16, 87.7), driftBins: 0.62, evidence: 4, prominence: 44.7 };
  const steady = { ...waveOf(11.77, 85.1), driftBins: 0.12, evidence: 3.5, prominence: 29.9 };

  it('one that stays on its peak tells for one that does not, with its evidence', () => {
    expect(steadiest(strayed, [strayed, steady])).toEqual({ ...steady, evidence: 4 });
    const steadier = { ...steady, driftBins: 0.05, pitchMm: 11.8 };
    expect(steadiest(strayed, [steady, steadier]).pitchMm).toBe(11.8);
  });

  it('a wave stays that is steady itself', () => {
    const still = { ...strayed, driftBins: 0.3 };
    expect(steadiest(still, [steady])).toBe(still);
  });

  it('what is less sure, stands out less or is another wave says nothing', () => {
    const others = [
      { ...steady, evidence: 2.9 },
      { ...steady, prominence: 20 },
      { ...steady, driftBins: 0.5 },
      { ...steady, ...waveOf(11.77, 80) },
      { ...steady, ...waveOf(11, 85.1) },
    ];
    expect(steadiest(strayed, others)).toBe(strayed);
  });
});
