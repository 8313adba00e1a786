import { type Machine } from '../../domain/index.ts';
import { type StrokeOption } from './stroke-options.ts';

/** Neighbouring swaths overlap by about this much, which narrow lines pay more often. Common practice. */
const SWATH_OVERLAP_MM = 3;
/** Each doubling of stroke fluence beyond the gentlest leaves the metal coarser; a tie-breaker, worth this part of the time. */
const COARSENESS_PER_DOUBLING = 0.02;

/**
 * What a minute of beam time costs with this stroke, against the widest and gentlest one: narrow lines overlap more, and
 * deep strokes leave a coarser surface (common practice: the higher frequency leaves the smoother metal).
 */
export function effortFactor(option: StrokeOption, machine: Machine): number {
  const overlap = 1 + SWATH_OVERLAP_MM / option.scanWidthMm;
  const gentlest = (machine.scanWidthMm.max * machine.scanFrequencyHz.max) / machine.powerW.max;
  const doublings = Math.log2((gentlest * option.powerW) / (option.scanWidthMm * option.scanFrequencyHz));
  return overlap * (1 + COARSENESS_PER_DOUBLING * Math.max(0, doublings));
}
