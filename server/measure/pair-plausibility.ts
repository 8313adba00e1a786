import { failure, success } from '../domain/index.ts';
import type { Measured, Outcome, Surface, Warning } from '../domain/index.ts';

/** Zones of one surface seen twice may differ this much in area: corners are set by hand. */
const MOST_AREA_RATIO = 1.3;
/** Growth, beyond both intervals, that cleaning cannot explain: it adds no coating and no scale. Flash rust and stain may come. */
const MOST_GROWTH = 0.2;
/** Growth of rust that needs more than flash rust. */
const MOST_RUST_GROWTH = 0.5;

/** A surface that is to be cleaned is not this bare: what is on it may be taken for steel. Chosen by us. */
const MOST_BARE_BEFORE = 0.97;

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
  return success([...grownResidue(before.surface, after.surface), ...nothingToClean(before.surface)]);
}

function grownResidue(before: Surface, after: Surface): Warning[] {
  if (growth(before.residue, after.residue) <= 0) return [];
  const message = `The after photo shows more residue (${percent(after.residue.value)}) than the before photo (${percent(before.residue.value)}): check that they are not swapped.`;
  return [{ code: 'residue-grew', message }];
}

/** Grey paint and smooth mill scale can have the colour of steel, and then both photos are told as bare. */
function nothingToClean({ fractions: { bare } }: Surface): Warning[] {
  if (bare.value < MOST_BARE_BEFORE) return [];
  const message = `The before photo already reads as bare steel (${percent(bare.value)} of the zone). If paint or mill scale was on it, that is taken for steel in both photos: scrape, and correct the class map.`;
  return [{ code: 'before-reads-bare', message }];
}

/** Certain growth: from the upper bound before to the lower bound after. */
const growth = (before: Measured, after: Measured): number => after.low - before.high;

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
