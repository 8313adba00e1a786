import { describe, expect, it } from 'vitest';
import { arealEnergy } from '../../../../server/domain/energy/areal-energy.ts';
import { meanIrradianceKwPerCm2, peakIrradianceKwPerCm2 } from '../../../../server/domain/energy/irradiance.ts';
import { lineEnergyJPerM } from '../../../../server/domain/energy/line-energy.ts';
import { gaussianPeakFluence, strokeFluence } from '../../../../server/domain/energy/stroke-fluence.ts';
import { strokesSeenByPoint } from '../../../../server/domain/kinematics/overlap.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';

// Expected numbers: arithmetic by hand on 1500 W, d 0.6 mm, W 100 mm, f 100 Hz (cycles), 10 mm/s, one pass.
const example = settingsOf({});
const strokeCounting = { ...LINE_MACHINE, strokesPerCycle: 1 as const };

describe('energy of a swept line', () => {
  it('lays 75 J on a metre of stroke', () => {
    expect(lineEnergyJPerM(example, LINE_MACHINE)).toBeCloseTo(75, 12);
  });

  it('gives 12.5 J/cm2 a stroke, twice as much when hertz are strokes', () => {
    expect(strokeFluence(example, LINE_MACHINE)).toBeCloseTo(12.5, 12);
    expect(strokeFluence(example, strokeCounting)).toBeCloseTo(25, 12);
  });

  it('peaks 1.596 times higher on the axis of a Gaussian beam, as the beam integrated along the stroke', () => {
    const [radius, steps] = [0.3, 4000];
    let integral = 0;
    for (let index = 0; index < steps; index++) {
      const x = 10 * radius * ((index + 0.5) / steps - 0.5);
      integral +=
        ((2 * 1500) / (Math.PI * radius ** 2)) * Math.exp((-2 * x ** 2) / radius ** 2) * ((10 * radius) / steps);
    }
    expect(gaussianPeakFluence(example, LINE_MACHINE)).toBeCloseTo((100 * integral) / 20_000, 6);
    expect(gaussianPeakFluence(example, LINE_MACHINE) / strokeFluence(example, LINE_MACHINE)).toBeCloseTo(1.596, 3);
  });

  it('sends 150 J/cm2 to the surface, whatever the frequency, spot and way of counting hertz', () => {
    expect(arealEnergy(example)).toBeCloseTo(150, 12);
    expect(arealEnergy(settingsOf({ scanFrequencyHz: 37 }))).toBeCloseTo(150, 12);
    for (const machine of [LINE_MACHINE, strokeCounting, { ...LINE_MACHINE, spotDiameterMm: 1.1 as never }]) {
      const strokes = strokesSeenByPoint(example, machine);
      expect(strokeFluence(example, machine) * strokes).toBeCloseTo(150, 9);
    }
  });

  it('grows with passes and falls with travel speed and width', () => {
    expect(arealEnergy(settingsOf({ passes: 4 }))).toBeCloseTo(600, 12);
    expect(arealEnergy(settingsOf({ travelSpeedMmPerS: 20, scanWidthMm: 50 }))).toBeCloseTo(150, 12);
  });

  it('shines 530 kW/cm2 on average and 1061 kW/cm2 at the peak', () => {
    expect(meanIrradianceKwPerCm2(example, LINE_MACHINE)).toBeCloseTo(530.5, 1);
    expect(peakIrradianceKwPerCm2(example, LINE_MACHINE)).toBeCloseTo(1061, 0);
  });
});
