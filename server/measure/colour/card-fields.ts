import type { LabD50, RectangleMm, ReferenceCard } from '../../domain/index.ts';
import type { CardValues } from '../card/read-card-values.ts';
import type { PatchField } from './sample-patches.ts';

/** Sides of the smallest piece of paper worth sampling, mm. */
const LEAST_PAPER_MM = 2;

/**
 * Everything on the card whose colour is known: patches and bare paper, with measured values where there are any.
 * Measured values are absolute, so without a reading of the paper the paper is left out.
 */
export function cardFields(card: ReferenceCard, values: CardValues | null): PatchField[] {
  const patches = card.patches.map(({ id, family, area, nominal }) => ({
    id,
    family,
    area,
    lab: values?.patches.get(id) ?? nominal.lab,
  }));
  const paperLab = values === null ? card.paper.lab : values.paper;
  return paperLab === null ? patches : [...patches, ...paperFields(card.paper.areas, paperLab)];
}

function paperFields(areas: readonly RectangleMm[], lab: LabD50): PatchField[] {
  return areas
    .filter((area) => Math.min(area.width, area.height) >= LEAST_PAPER_MM)
    .map((area, index) => ({ id: `paper ${index + 1}`, family: 'paper' as const, area, lab }));
}
