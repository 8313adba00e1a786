import type { EvidenceTable } from './evidence-table.ts';
import { refineTable } from './evidence-table.ts';

/** What each table looks at, in the order of its axes. */
export interface ColourEvidence {
  /** L, a, b of the pixel. */
  readonly colour: EvidenceTable;
  /** L, a, b of its surroundings (4.5 mm). */
  readonly around: EvidenceTable;
  /** ln(grain), L. */
  readonly grain: EvidenceTable;
  /** ln(mottle of lightness), ln(mottle of chroma). */
  readonly mottle: EvidenceTable;
  /** L less the zone's bare lightness, chroma. */
  readonly relative: EvidenceTable;
}

/** Added to grain and mottling before the logarithm, CIELAB units. */
export const TEXTURE_OFFSET = 0.3;

/** Tables read at the nearest node: fine enough that a step changes the evidence by less than a tenth. */
export function refineEvidence(evidence: ColourEvidence): ColourEvidence {
  return {
    colour: refineTable(evidence.colour, [64, 64, 64]),
    around: refineTable(evidence.around, [40, 40, 40]),
    grain: refineTable(evidence.grain, [48, 64]),
    mottle: refineTable(evidence.mottle, [48, 48]),
    relative: refineTable(evidence.relative, [96, 32]),
  };
}
