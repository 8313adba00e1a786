import { byteMask } from './plane.ts';
import type { ByteMask } from './plane.ts';

/** 1 where a pixel lies in the zone and nothing blocks it. */
export function usableMask(zone: ByteMask, blocked: ByteMask): ByteMask {
  const usable = byteMask(zone.width, zone.height);
  const [inside, barred, out] = [zone.values, blocked.values, usable.values];
  for (let i = 0; i < out.length; i++) out[i] = inside[i] !== 0 && barred[i] === 0 ? 1 : 0;
  return usable;
}
