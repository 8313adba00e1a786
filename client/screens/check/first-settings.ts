import type { ShopMachine } from '@domain/api/machines.ts';
import type { Settings } from '@domain/settings.ts';
import { settingsSchema } from '@domain/settings.ts';
import { stepOf } from '../../components/step-of.ts';

/** Where each dial starts when nobody has worked on the zone: common practice for taking off rust by hand. */
const USUAL = { powerW: 1000, scanWidthMm: 100, scanFrequencyHz: 50, travelSpeedMmPerS: 15, passes: 1 } as const;
const DIALS = ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const;

/** The last settings of the zone as this machine can be set, or usual ones for a first round. */
export function suggestedSettings(last: Settings | null, { machine, dialSteps }: ShopMachine): Settings {
  if (last !== null && DIALS.every((dial) => last[dial] >= machine[dial].min && last[dial] <= machine[dial].max)) {
    return { ...last, passes: Math.min(last.passes, machine.maxPasses) };
  }
  const wanted = last ?? USUAL;
  const set = DIALS.map((dial) => [dial, stepOf(wanted[dial], 0, { ...machine[dial], step: dialSteps[dial] })]);
  return settingsSchema.parse({ ...Object.fromEntries(set), passes: Math.min(wanted.passes, machine.maxPasses) });
}
