import { dialsBeyond, hasTooManyPasses } from '../dials-beyond.ts';
import type { DoseRequest } from '../dose.ts';
import { edgeGap, linePitch } from '../kinematics/line-pitch.ts';

/** Contrast from which stripes are spoken of. Chosen by us: less is lost in the texture of any steel. */
const VISIBLE_CONTRAST = 0.1;

/** What the picture shows, in plain sentences. */
export function doseRemarks(
  { settings, machine }: DoseRequest,
  seen: { meanEnergyJPerCm2: number; meanResidueFraction: number; contrast: number },
): string[] {
  const [pitch, edge, spot] = [linePitch(settings, machine), edgeGap(settings, machine), machine.spotDiameterMm];
  const remarks = [
    ...beyondMachine(settings, machine),
    `Strokes lie ${pitch.toFixed(2)} mm apart in the middle of the line and up to ${edge.toFixed(2)} mm at its ends; the spot is ${spot} mm.`,
  ];
  if (pitch > spot) {
    remarks.push('The pitch is wider than the spot: bare metal between rusty lines is to be expected all over.');
  } else if (edge > spot) {
    remarks.push('Only the ends of the line open wider than the spot: overlap the swaths or stripes will stay there.');
  }
  if (seen.contrast >= VISIBLE_CONTRAST) {
    remarks.push(
      `Stripes should show: the least bare tenth keeps ${Math.round(100 * seen.contrast)} percentage points more residue than the barest.`,
    );
  }
  remarks.push(
    'A typical surface of this kind is drawn; how a real one answers is learned from its rounds. Predicted, not measured.',
  );
  return remarks;
}

const DIAL_WORDS = {
  powerW: ['power', 'W'],
  scanWidthMm: ['width', 'mm'],
  scanFrequencyHz: ['frequency', 'Hz'],
  travelSpeedMmPerS: ['speed', 'mm/s'],
} as const;

/** Settings that this machine cannot be set to; the picture then shows what another one would do. */
function* beyondMachine(settings: DoseRequest['settings'], machine: DoseRequest['machine']): Generator<string> {
  for (const { dial, set, min, max } of dialsBeyond(settings, machine)) {
    const [word, unit] = DIAL_WORDS[dial];
    yield `This machine cannot be set so: ${word} is ${set} ${unit}, and goes from ${min} to ${max} ${unit}.`;
  }
  if (hasTooManyPasses(settings, machine)) {
    yield `This machine cannot be set so: ${settings.passes} passes, and ${machine.maxPasses} are its most.`;
  }
}
