import type { Machine, Settings } from '../domain/index.ts';

/** How the line was driven, as far as somebody said. */
export interface LineAsSet {
  readonly settings: Settings | null;
  readonly strokesPerCycle: Machine['strokesPerCycle'];
}
