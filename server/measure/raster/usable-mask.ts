import { byteMask } from './plane.ts';
import type { ByteMask } from './plane.ts';

/** 1 where a pixel lies in the zone and nothing blocks it. */
export function usableMask(zone: ByteMask, blocked: ByteMask): ByteMask {
  const usable = byteMask(zone.width, zone.height);
  for (let i = 0; i < usable.values.length; i++) {
    usable.values[i] = zone.values[i] !== 0 && blocked.values[i] === 0 ? 1 : 0;
  }
  return usable;
}
