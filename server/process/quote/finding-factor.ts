/**
 * Beam time of finding the setting and of what is treated twice, against the best single setting: what the closed-loop
 * test shows at most in the middle of its cases.
 */
export const FINDING_FACTOR = 1.5;
