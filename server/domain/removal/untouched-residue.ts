/** Residue of an uncleaned surface when nobody has measured it. Common practice: it is covered but for scratches. */
export const UNTOUCHED_RESIDUE: { readonly share: number; readonly deviation: number } = {
  share: 0.9,
  deviation: 0.08,
};
