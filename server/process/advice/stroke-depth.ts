import { type Machine, type Settings } from '../../domain/index.ts';

type Sweep = Pick<Settings, 'powerW' | 'scanWidthMm' | 'scanFrequencyHz'>;

/** Proportional to fluence per stroke on one machine, W s/mm. */
export const strokeDepth = ({ powerW, scanWidthMm, scanFrequencyHz }: Sweep): number =>
  powerW / (scanWidthMm * scanFrequencyHz);

/** The deepest stroke of a machine: all its power on the narrowest line at the lowest frequency. */
export const deepestStroke = ({ powerW, scanWidthMm, scanFrequencyHz }: Machine): number =>
  powerW.max / (scanWidthMm.min * scanFrequencyHz.min);

/** Strokes above this part of the deepest one leave nothing much deeper to try. */
const NEARLY_DEEPEST = 0.6;

export const isNearDeepest = (settings: Sweep, machine: Machine): boolean =>
  strokeDepth(settings) >= NEARLY_DEEPEST * deepestStroke(machine);
