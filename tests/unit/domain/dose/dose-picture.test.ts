import { describe, expect, it } from 'vitest';
import { type DosePicture, type DoseRequest, doseRequestSchema } from '../../../../server/domain/index.ts';
import { dosePicture } from '../../../../server/domain/dose/dose-picture.ts';
import { PROFILE_REACH, strokeProfile } from '../../../../server/domain/dose/stroke-profile.ts';
import { CHECK_EXAMPLE, LINE_MACHINE } from '../../../support/line-machine.ts';

/** 400 J on 150 mm at 25 cycles a second and 40 mm/s: strokes 0.8 mm apart, wider than the spot of 0.6 mm. */
const TOO_FAST = { powerW: 1500, scanWidthMm: 150, scanFrequencyHz: 25, travelSpeedMmPerS: 40, passes: 1 };

function pictureOf(change: Partial<Record<keyof DoseRequest, unknown>> = {}): DosePicture {
  const picture = dosePicture(
    doseRequestSchema.parse({ settings: CHECK_EXAMPLE, machine: LINE_MACHINE, surface: 'light rust', ...change }),
  );
  if (!picture.ok) throw new Error(JSON.stringify(picture.fault));
  return picture.value;
}

/** How often a column of cells rises above its own middle value. */
function stripesIn(rows: readonly (readonly number[])[], column: number): number {
  const values = rows.map((row) => row[column]);
  const middle = (Math.max(...values) + Math.min(...values)) / 2;
  return values.filter((value, i) => value > middle && (i === 0 || values[i - 1] <= middle)).length;
}

describe('the dose picture', () => {
  it('lays the areal energy, pitch and fluence of the worked check example (standards sheet 4.1: 150 J/cm2, 0.05 mm, 12.5 J/cm2)', () => {
    const picture = pictureOf();
    expect(picture.meanEnergyJPerCm2).toBeCloseTo(150, 0);
    expect(picture.linePitchMm).toBeCloseTo(0.05, 9);
    expect(picture.edgeGapMm).toBeCloseTo(0.1, 9);
    expect(picture.strokeFluenceJPerCm2).toBeCloseTo(12.5, 9);
  });

  it.each(['gaussian', 'even'])(
    'keeps the mean energy for a %s beam, either mirror and any number of passes',
    (beam) => {
      for (const mirror of ['triangular', 'sinusoidal']) {
        const settings = { ...TOO_FAST, passes: 3 };
        const { meanEnergyJPerCm2 } = pictureOf({ settings, beam, mirror, lengthMm: 40 });
        // P N / (W v), which no optics can change.
        expect(Math.abs(meanEnergyJPerCm2 / 75 - 1)).toBeLessThan(0.02);
      }
    },
  );

  it('lays energy in proportion to power', () => {
    const twice = pictureOf({ settings: { ...TOO_FAST, powerW: 2000 } }).energyJPerCm2;
    pictureOf({ settings: { ...TOO_FAST, powerW: 1000 } }).energyJPerCm2.forEach((row, r) => {
      row.forEach((energy, c) => {
        expect(Math.abs(twice[r][c] - 2 * energy)).toBeLessThan(0.02);
      });
    });
  });

  it('shows stripes one pitch apart in the middle and pairs of strokes at the ends, once the hand outruns the mirror', () => {
    const picture = pictureOf({ settings: TOO_FAST, lengthMm: 32, beam: 'even' });
    expect(stripesIn(picture.residueFraction, picture.columns / 2)).toBeGreaterThanOrEqual(39);
    expect(stripesIn(picture.residueFraction, picture.columns / 2)).toBeLessThanOrEqual(41);
    // Zig-zag: v / f = 1.6 mm between pairs.
    expect(stripesIn(picture.residueFraction, 0)).toBeGreaterThanOrEqual(19);
    expect(stripesIn(picture.residueFraction, 0)).toBeLessThanOrEqual(21);
    expect(picture.stripeContrast).toBeGreaterThan(0.5);
    expect(picture.remarks.join(' ')).toContain('wider than the spot');
  });

  it('says so where the machine cannot be set like that', () => {
    const remarks = pictureOf({ settings: { ...TOO_FAST, powerW: 9000, passes: 40 } }).remarks.join(' ');
    expect(remarks).toContain('power is 9000 W');
    expect(remarks).toContain('40 passes');
    expect(pictureOf().remarks.join(' ')).not.toContain('cannot be set');
  });

  it('shows no stripes where twelve strokes cross every point', () => {
    expect(pictureOf().stripeContrast).toBeLessThan(0.01);
  });

  it('leaves more where the hand quickened', () => {
    const speedTrace = [
      { alongMm: 0, travelSpeedMmPerS: 8 },
      { alongMm: 19, travelSpeedMmPerS: 8 },
      { alongMm: 21, travelSpeedMmPerS: 40 },
    ];
    const { residueFraction, rows } = pictureOf({ settings: TOO_FAST, lengthMm: 40, speedTrace });
    const mean = (part: readonly (readonly number[])[]): number =>
      part.flat().reduce((a, b) => a + b, 0) / part.flat().length;
    expect(mean(residueFraction.slice(rows / 2 + 10))).toBeGreaterThan(
      mean(residueFraction.slice(0, rows / 2 - 10)) + 0.2,
    );
  });

  it('leaves a swinging mirror’s ends cleaner than its middle', () => {
    const { energyJPerCm2 } = pictureOf({ mirror: 'sinusoidal' });
    const columnSum = (column: number): number => energyJPerCm2.reduce((sum, row) => sum + row[column], 0);
    expect(columnSum(0)).toBeGreaterThan(2 * columnSum(24));
    // 2/pi of the even energy in the middle: it passes there pi/2 times as fast (standards sheet 4.1).
    expect(columnSum(24) / energyJPerCm2.length).toBeCloseTo((150 * 2) / Math.PI, 0);
  });

  it('keeps all it was given when nothing is removed and never shows more', () => {
    const gentle = { powerW: 300, scanWidthMm: 300, scanFrequencyHz: 200, travelSpeedMmPerS: 60, passes: 1 };
    const { meanResidueFraction, residueFraction } = pictureOf({
      settings: gentle,
      surface: 'tight oxide',
      startResidueFraction: 0.8,
    });
    expect(meanResidueFraction).toBeCloseTo(0.8, 3);
    expect(Math.max(...residueFraction.flat())).toBeLessThanOrEqual(0.8);
  });

  it('refuses a walk of more strokes than it draws', () => {
    const endless = dosePicture(
      doseRequestSchema.parse({ settings: CHECK_EXAMPLE, machine: LINE_MACHINE, lengthMm: 5000 }),
    );
    expect(endless).toMatchObject({ ok: false, fault: { code: 'settings-malformed', path: 'lengthMm' } });
  });
});

describe('the profile of a stroke', () => {
  it('peaks at sqrt(8 / pi) for a Gaussian beam and holds all its energy (Gaussian integral)', () => {
    expect(strokeProfile('gaussian', 0)).toBeCloseTo(1.5958, 4);
    for (const beam of ['gaussian', 'even'] as const) {
      const step = 0.001;
      let sum = 0;
      for (let x = -PROFILE_REACH[beam]; x <= PROFILE_REACH[beam]; x += step) sum += step * strokeProfile(beam, x);
      expect(Math.abs(sum - 1)).toBeLessThan(0.01);
    }
  });
});
