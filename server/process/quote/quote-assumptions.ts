import { type Quote } from '../../domain/index.ts';
import { percent } from '../advice/explain-round.ts';
import { FINDING_FACTOR } from './finding-factor.ts';
import { type BeamShare } from './round-minutes.ts';

export interface QuoteTerms {
  readonly target: Quote['target'];
  readonly beamShare: number;
  /** What earlier zones tell of the share with the beam on; null where the request states it. */
  readonly learnt: BeamShare | null;
  /** Earlier zones that contradict themselves. */
  readonly leftOut: number;
  /** Earlier zones of the kind were counted. */
  readonly isMeasured: boolean;
  readonly reachable: number;
}

/** What a quote rests on, a sentence each. */
export function quoteAssumptions({ target, beamShare, learnt, leftOut, isMeasured, reachable }: QuoteTerms): string[] {
  const asked = percent(target.residueFractionMax);
  const beam =
    learnt === null || learnt.share === null
      ? '; the rest is moving, photographing, checking and cooling'
      : `, as on ${zonesWord(learnt.zones)} of this machine that stated area and working time`;
  const doubted = learnt?.doubted ?? 0;
  return [
    `The beam is on for ${percent(beamShare)} of the working time${beam}.`,
    isMeasured
      ? `Earlier zones count with all the beam time that they took until ${asked} or less was left, finding the setting included.`
      : `Beam time holds a factor of ${FINDING_FACTOR} for finding the setting and for what is treated twice.`,
    `The chance that this machine reaches the target on such a surface at all is about ${percent(reachable)}; the range holds if it does.`,
    'The whole area is taken to be alike; parts that differ are better quoted apart.',
    'Access, screens, extraction, waste and coating are not in it unless they are in the set-up hours.',
    ...(doubted === 0
      ? []
      : [
          `The working time of ${zonesWord(doubted)} is shorter than the beam alone takes there, so it does not count; check area and time.`,
        ]),
    ...(leftOut === 0
      ? []
      : [`Not counted: ${zonesWord(leftOut)} whose rounds contradict one another or the limits of this machine.`]),
  ];
}

const zonesWord = (count: number): string => `${count} earlier ${count === 1 ? 'zone' : 'zones'}`;
