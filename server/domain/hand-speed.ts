/** A hand is off its pace by a fifth, rarely by half (common practice): beyond this factor the noted settings are the likelier fault. */
const FAR_OFF = 3;

/** Whether a measured travel speed is so far from the intended one that the settings may not have stood as noted. */
export const isSpeedFarOff = (realMmPerS: number, intendedMmPerS: number): boolean =>
  Math.max(realMmPerS / intendedMmPerS, intendedMmPerS / realMmPerS) > FAR_OFF;
