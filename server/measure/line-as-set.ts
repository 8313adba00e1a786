import type { Machine, Settings } from '../domain/index.ts';

/** How the line was driven, as far as somebody said. */
export interface LineAsSet {
  readonly settings: Settings | null;
  /** Of the machine: 2 when a hertz is a full cycle, 1 when it is a stroke. */
  readonly strokesPerCycle: Machine['strokesPerCycle'];
}
