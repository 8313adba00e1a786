import { useMemo } from 'react';
import { useAnswer } from '../api/use-answer.ts';
import { shownUnits } from './shown-units.ts';
import type { ShownUnits } from './shown-units.ts';

/** The shop's units. Until the shop is known, millimetres. */
export function useUnits(): ShownUnits {
  const shop = useAnswer('readShop', {}, { staleTime: 300_000 });
  const system = shop.data?.units ?? 'millimetres';
  return useMemo(() => shownUnits(system), [system]);
}
