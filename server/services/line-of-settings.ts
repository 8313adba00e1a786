import type { SettingsFile } from '../domain/index.ts';
import type { LineAsSet } from '../measure/line-as-set.ts';

/** How the line was driven; without a machine a hertz is taken as a full cycle of two strokes. */
export const lineOfSettings = (file: SettingsFile | null): LineAsSet => ({
  settings: file?.settings ?? null,
  strokesPerCycle: file?.machine?.strokesPerCycle ?? 2,
});
