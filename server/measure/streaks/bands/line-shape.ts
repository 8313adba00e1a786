/** Core and flanks of a line, in bins from its middle. */
export interface LineShape {
  readonly half: number;
  readonly gap: number;
  readonly far: number;
}

/** Ground beside a line: wide enough to be steady, near enough to be the same ground. */
const flankMm = (widthMm: number): number => Math.min(10, Math.max(2, 0.6 * widthMm));

export function lineShape(widthMm: number, binMm: number): LineShape {
  const half = Math.max(1, Math.round((0.35 * widthMm) / binMm));
  const gap = Math.max(half, Math.round((0.62 * widthMm) / binMm));
  return { half, gap, far: gap + Math.max(2, Math.round(flankMm(widthMm) / binMm)) };
}
