/** A colour difference in CIEDE2000 units, to a tenth: finer than that no eye and no print is. */
export const formatColourDifference = (deltaE00: number): string => deltaE00.toFixed(1);
