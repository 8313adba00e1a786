/** A whole tree of three questions: is a sign at most a threshold? */
export interface EvidenceTree {
  /** Places among the signs, of the first question, the two second ones and the four third ones. */
  readonly sign: readonly number[];
  readonly most: readonly number[];
  /** Log odds added; eight, from always yes to always no. */
  readonly odds: readonly number[];
}

/** What a tree answers to signs. */
export function oddsOf({ sign, most, odds }: EvidenceTree, signs: readonly number[]): number {
  let question = 0;
  while (question < sign.length) question = 2 * question + (signs[sign[question]] <= most[question] ? 1 : 2);
  return odds[question - sign.length];
}
