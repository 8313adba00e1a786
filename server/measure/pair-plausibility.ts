import { failure, success } from '../domain/index.ts';
import type { Measured, Outcome, Surface, Warning } from '../domain/index.ts';

/** Zones of one surface seen twice may differ this much in area: corners are set by hand. */
const MOST_AREA_RATIO = 1.3;
/** Growth, beyond both intervals, that cleaning cannot explain: it adds no coating and no scale. Flash rust and stain may come. */
const MOST_GROWTH = 0.2;
/** Growth of rust that needs more than flash rust. */
const MOST_RUST_GROWTH = 0.5;

export interface SeenSurface {
  readonly surface: Surface;
  readonly areaMm2: number | null;
}

/**
 * Cleaning only takes away. Where the after photo certainly shows much more of what cleaning cannot add, or a zone of another
 * size, the two photos are of different things, or one of them was misread; either way nothing is said of what was removed.
 */
export function checkPair(before: SeenSurface, after: SeenSurface): Outcome<Warning[]> {
  const different = (detail: string): ReturnType<typeof failure> =>
    failure({ code: 'photos-of-different-things', detail });
  if (before.areaMm2 !== null && after.areaMm2 !== null) {
    const ratio = Math.max(before.areaMm2 / after.areaMm2, after.areaMm2 / before.areaMm2);
    if (ratio > MOST_AREA_RATIO) {
      const areas = [before.areaMm2, after.areaMm2].map((area) => (area / 100).toFixed(0));
      return different(`the zone covers ${areas[0]} cm2 before and ${areas[1]} cm2 after`);
    }
  }
  const was = before.surface.fractions;
  const is = after.surface.fractions;
  for (const [name, limit] of [
    ['coating', MOST_GROWTH],
    ['scale', MOST_GROWTH],
    ['rust', MOST_RUST_GROWTH],
  ] as const) {
    if (growth(was[name], is[name]) > limit && growth(before.surface.residue, after.surface.residue) > limit) {
      return different(
        `${name} grew from ${percent(was[name].value)} to ${percent(is[name].value)}, which cleaning cannot do`,
      );
    }
  }
  if (growth(before.surface.residue, after.surface.residue) > 0) {
    return success([
      {
        code: 'residue-grew',
        message: `The after photo shows more residue (${percent(after.surface.residue.value)}) than the before photo (${percent(before.surface.residue.value)}): check that they are not swapped.`,
      },
    ]);
  }
  return success([]);
}

/** Certain growth: from the upper bound before to the lower bound after. */
const growth = (before: Measured, after: Measured): number => after.low - before.high;

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
