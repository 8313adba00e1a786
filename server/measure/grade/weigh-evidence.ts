import type { GradeDecision, Measured } from '../../domain/index.ts';
import { IS_THERE_ABOVE, READS_AS_NONE_UP_TO } from './visible-limit.ts';

/** One requirement weighed against one share: the decision and the words for it. */
export interface Weighed {
  readonly decision: GradeDecision;
  readonly words: string;
}

export const percentWords = (share: number): string => `${(100 * share).toFixed(share < 0.0995 ? 1 : 0)} %`;

const intervalWords = ({ value, low, high }: Measured): string =>
  `${percentWords(value)} (${percentWords(low)} to ${percentWords(high)})`;

/**
 * Guard-banded by the 95 % interval: accepted when its upper end is within the limit, refused when its lower end is
 * beyond, open in between. Source: [JCGM106].
 */
export function weighLimit(name: string, share: Measured, limit: number): Weighed {
  const words = `${name} ${intervalWords(share)}`;
  if (share.high <= limit) return { decision: 'meets', words: `${words} is within ${percentWords(limit)}` };
  if (share.low > limit) return { decision: 'does not meet', words: `${words} is beyond ${percentWords(limit)}` };
  return { decision: 'cannot tell', words: `${words} reaches across the limit of ${percentWords(limit)}` };
}

/** None: refuted, compatible, or too uncertain; see {@link READS_AS_NONE_UP_TO} and {@link IS_THERE_ABOVE}. */
export function weighNone(name: string, share: Measured): Weighed {
  const words = `${name} ${intervalWords(share)}`;
  if (share.low > IS_THERE_ABOVE) return { decision: 'does not meet', words: `${words} is there, and none is allowed` };
  if (share.high <= READS_AS_NONE_UP_TO) {
    return {
      decision: 'meets',
      words: `${words} is compatible with none, though less than ${percentWords(READS_AS_NONE_UP_TO)} would not show in a photo`,
    };
  }
  return {
    decision: 'cannot tell',
    words: `${words} neither shows residue or tint for certain nor lies within the ${percentWords(READS_AS_NONE_UP_TO)} that reads as none`,
  };
}

const ORDER: readonly GradeDecision[] = ['does not meet', 'cannot tell', 'meets'];

/** All requirements must hold: one refusal refuses, one open question leaves the grade open. The words of the deciding ones. */
export function weighTogether(parts: readonly Weighed[]): Weighed & { readonly decidedBy: number } {
  const decision = ORDER.find((candidate) => parts.some((part) => part.decision === candidate)) ?? 'cannot tell';
  const deciding = parts.filter((part) => part.decision === decision);
  return { decision, words: deciding.map(({ words }) => words).join(', and '), decidedBy: deciding.length };
}
