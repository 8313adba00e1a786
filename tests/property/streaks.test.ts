import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { STREAK_KINDS, hertz, measured, millimetresPerSecond, streaksSchema } from '../../server/domain/index.ts';
import { fitLattice } from '../../server/measure/streaks/bands/fit-lattice.ts';
import { detectStreaks } from '../../server/measure/streaks/detect-streaks.ts';
import { expectedPitchMm, travelSpeedFromPitch } from '../../server/measure/streaks/travel-speed.ts';
import { STEEL_GROUNDS, stripedSteel } from '../support/striped-steel.ts';

const positive = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });

describe('streaks, whatever the numbers', () => {
  it('the travel speed is the inverse of the spacing of strokes', () => {
    fc.assert(
      fc.property(positive(1, 500), positive(1, 1000), fc.constantFrom<1 | 2>(1, 2), (speed, frequency, strokes) => {
        const settings = { travelSpeedMmPerS: millimetresPerSecond(speed), scanFrequencyHz: hertz(frequency) };
        const pitch = expectedPitchMm(settings, strokes);
        const back = travelSpeedFromPitch(measured(pitch, pitch, pitch), settings, strokes);
        expect(back.value / speed).toBeCloseTo(1, 9);
      }),
    );
  });

  it('a lattice gives its spacing back, wherever it starts', () => {
    fc.assert(
      fc.property(positive(2, 120), positive(-500, 500), fc.integer({ min: 2, max: 20 }), (spacing, start, count) => {
        const lattice = fitLattice(Array.from({ length: count }, (_, k) => start + k * spacing));
        expect(lattice.spacing / spacing).toBeCloseTo(1, 9);
        expect(lattice.unevenness).toBeLessThan(1e-9);
      }),
    );
  });

  it('every finding is a valid statement that does not contradict itself', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.constantFrom(...STEEL_GROUNDS),
        fc.constantFrom(null, ...STREAK_KINDS),
        (seed, ground, kind) => {
          const size = { widthMm: 70, heightMm: 60, stepMm: 0.5 };
          const view = stripedSteel(seed, { ...size, ground, ...(kind === null ? {} : { stripes: { kind } }) });
          const { streaks, explanation } = detectStreaks({
            grid: view.grid,
            lab: view.lab,
            usable: view.usable,
            residueProbability: null,
            filmProbability: null,
            underDwellProbability: null,
            photoPxPerUnit: view.pxPerMm,
            settings: null,
            strokesPerCycle: 2,
          });
          streaksSchema.parse({ ...streaks, travelSpeedMmPerS: null });
          expect(streaks.found).toBe(streaks.kind !== null);
          expect(streaks.found).toBe(streaks.directionDegrees !== null);
          expect(streaks.found).toBe(explanation.doubt === null);
          expect(streaks.found || (streaks.affectedFraction === 0 && explanation.centreLines.length === 0)).toBe(true);
        },
      ),
      { numRuns: 16, seed: 7 },
    );
  });
});
