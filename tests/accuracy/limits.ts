/** What `npm run accuracy` must hold, each with its reason. */
export const LIMITS = {
  /** A card in plain view that is not found costs the operator a walk back. */
  cardFound: 0.99,
  /** Patches that took no part in the fit, CIEDE2000: 2 is about what is seen side by side, 4.5 still the same colour name. */
  colourMedian: 2,
  colourP95: 4.5,
  /** Local scale within 200 mm of the card at tilts to 30 degrees, 95th percentile: 2 mm in 300 mm. */
  scale: 0.007,
  /** Residue share: a tenth of SP 14's limit on the median, a third of it in the worst twentieth. */
  residueMedian: 0.01,
  residueP95: 0.035,
  /** Nominal 95 % intervals. */
  coverageLow: 0.9,
  coverageHigh: 0.99,
  worstSquareP95: 0.05,
  /** At a contrast of 3 CIEDE2000 or more. */
  streakRecall: 0.95,
  streakContrast: 3,
  pitchP95: 0.03,
  directionP95: 2,
  falseAlarms: 0.02,
  /** Patches that differ by this much must be called right in this part. */
  compareResidue: 0.03,
  compareTexture: 1.25,
  compareRight: 0.95,
  compareSame: 0.9,
  /** Standard deviation of the residue share of one surface under five lights, two exposures and three angles. */
  gauge: 0.01,
} as const;
