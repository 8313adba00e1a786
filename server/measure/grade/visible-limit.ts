/**
 * A photo cannot prove that nothing is there; it can only refute it or be compatible with it. Two shares of the unit
 * area say when.
 */

/**
 * Reads as none: the interval reaches down to nothing and its upper end stays within 2 %. A spotless zone with the card
 * in view has an upper end of about 1.7 %, because the segmenter's own share error is 0.3 % (3.84 / (222 + 3.84) by
 * [WILSON1927]); anything stricter could never be read as none.
 */
export const READS_AS_NONE_UP_TO = 0.02;

/**
 * Something is there: even the lower end is above 0.5 %, 29 mm2 of a 76 mm square, a spot of 6 mm. Below that single
 * specks taken for the wrong class decide, not the surface.
 */
export const IS_THERE_ABOVE = 0.005;
