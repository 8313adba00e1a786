import { type Lever, type Machine, type Settings } from '../../domain/index.ts';
import { edgeGap, linePitch } from '../../domain/kinematics/line-pitch.ts';
import { dialledSettings } from './dial-steps.ts';
import { leverOf } from './lever-of.ts';
import { ladder } from './stroke-options.ts';

const STEPS = 8;

export type SingleLever = Exclude<Lever, 'combination'>;

/** In the order in which practice tries them when they promise the same: the ones that keep the width first. */
export const SINGLE_LEVERS: readonly SingleLever[] = [
  'lower frequency',
  'slower travel',
  'more passes',
  'narrower width',
];

/** Every dialled setting that differs from `base` by one lever alone and leaves no new gaps between strokes. */
export function settingsByLever(base: Settings, machine: Machine, lever: SingleLever): Settings[] {
  const changed = changes(base, machine, lever).map((change) => dialledSettings({ ...base, ...change }, machine));
  return changed.filter((settings) => leverOf(base, settings) === lever && closesGaps(base, settings, machine));
}

function changes(base: Settings, machine: Machine, lever: SingleLever): Partial<Record<keyof Settings, number>>[] {
  switch (lever) {
    case 'more passes':
      return Array.from({ length: Math.max(0, machine.maxPasses - base.passes) }, (_, extra) => ({
        passes: base.passes + extra + 1,
      }));
    case 'lower frequency':
      return ladder(base.scanFrequencyHz, machine.scanFrequencyHz.min, STEPS).map((scanFrequencyHz) => ({
        scanFrequencyHz,
      }));
    case 'narrower width':
      return ladder(base.scanWidthMm, machine.scanWidthMm.min, STEPS).map((scanWidthMm) => ({ scanWidthMm }));
    case 'slower travel':
      return ladder(base.travelSpeedMmPerS, machine.travelSpeedMmPerS.min, STEPS).map((travelSpeedMmPerS) => ({
        travelSpeedMmPerS,
      }));
  }
}

/** The widest gap stays within the spot, or at least the mean one where the base already opened the edges. */
function closesGaps(base: Settings, settings: Settings, machine: Machine): boolean {
  const spot = machine.spotDiameterMm;
  const wasTight = edgeGap(base, machine) <= spot;
  return wasTight ? edgeGap(settings, machine) <= spot : linePitch(settings, machine) <= spot;
}
