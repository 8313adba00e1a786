import type { LabD50 } from '../../domain/index.ts';
import { ciede2000Metric } from './ciede2000.ts';
import type { KnownColour } from './correction-model.ts';
import { labD50ToLinearSrgb, linearSrgbToLabD50 } from './lab-d50.ts';

/** Linear sRGB of a Lab D50 colour. */
export function linearOfLab(lab: LabD50): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  labD50ToLinearSrgb(lab, out);
  return [out[0], out[1], out[2]];
}

/** Step for the derivative of Lab by linear sRGB, relative to the white. */
const STEP = 1e-5;

/**
 * Weighs an error in linear sRGB by the CIEDE2000 it makes at the true colour: W = J^T G J / sigma^2, with J the derivative
 * of Lab by linear sRGB and G the local metric of CIEDE2000.
 * @param sigma standard deviation of the true value, CIEDE2000
 */
export function knownColour(balanced: readonly [number, number, number], lab: LabD50, sigma: number): KnownColour {
  const truth = linearOfLab(lab);
  const jacobian = labDerivative(truth);
  const metric = ciede2000Metric(lab);
  const weight = new Float64Array(9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let p = 0; p < 3; p++) {
        for (let q = 0; q < 3; q++) sum += jacobian[p * 3 + i] * metric[p * 3 + q] * jacobian[q * 3 + j];
      }
      weight[i * 3 + j] = sum / (sigma * sigma);
    }
  }
  return { balanced, truth, weight };
}

/** Row-major dLab / d(linear sRGB). */
function labDerivative(at: readonly [number, number, number]): Float64Array {
  const derivative = new Float64Array(9);
  const low: [number, number, number] = [0, 0, 0];
  const high: [number, number, number] = [0, 0, 0];
  for (let channel = 0; channel < 3; channel++) {
    const shifted = (by: number): [number, number, number] => [
      at[0] + (channel === 0 ? by : 0),
      at[1] + (channel === 1 ? by : 0),
      at[2] + (channel === 2 ? by : 0),
    ];
    linearSrgbToLabD50(...shifted(-STEP), low);
    linearSrgbToLabD50(...shifted(STEP), high);
    derivative[channel] = (high[0] - low[0]) / (2 * STEP);
    derivative[3 + channel] = (high[1] - low[1]) / (2 * STEP);
    derivative[6 + channel] = (high[2] - low[2]) / (2 * STEP);
  }
  return derivative;
}
