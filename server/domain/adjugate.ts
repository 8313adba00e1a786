/**
 * Adjugate of a plane projective map (row-major 3 x 3): its inverse up to the scale that projective maps do not have.
 * Source: [HARTLEY2004], appendix 4.
 */
export function adjugate(map: readonly number[]): number[] {
  const [a, b, c, d, e, f, g, h, i] = map;
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
}
