/** Small trees whose answers add up, as fitted by models/train/streaks and models/train/compare. */
export interface EvidenceTrees {
  /** Answer before any sign is looked at. */
  readonly offset: number;
  /** Questions that are asked one after the other in each tree. */
  readonly depth: number;
  /** All questions of a tree, row by row, tree by tree: which sign is asked about, and up to which value the left way is taken. */
  readonly sign: readonly number[];
  readonly most: readonly number[];
  /** Answers of a tree (log odds, or what the trees were fitted to), from the leftmost way to the rightmost. */
  readonly odds: readonly number[];
}

/** Sign of a share, where nobody told it: less than any that is. */
export const NOT_TOLD = -1;

/**
 * What the trees say of these signs.
 * Source: gradient boosting [FRIEDMAN2001].
 * @param values of the signs, in the order in which the trees number them
 */
export function weighByTrees({ offset, depth, sign, most, odds }: EvidenceTrees, values: readonly number[]): number {
  const answers = 2 ** depth;
  const questions = answers - 1;
  let sum = offset;
  for (let first = 0, leaves = 0; first < sign.length; first += questions, leaves += answers) {
    let question = 0;
    while (question < questions) {
      question = 2 * question + (values[sign[first + question]] <= most[first + question] ? 1 : 2);
    }
    sum += odds[leaves + question - questions];
  }
  return sum;
}
