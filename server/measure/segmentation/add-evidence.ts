import type { ColourEvidence } from './colour-evidence.ts';
import { TEXTURE_OFFSET } from './colour-evidence.ts';
import type { ColourFeatures } from './colour-features.ts';
import type { EvidenceTable } from './evidence-table.ts';
import { nearestNode } from './evidence-table.ts';

/** A change of colour that is tried on a pixel and its surroundings alike, Lab. */
export type LabOffset = readonly [L: number, a: number, b: number];
export const NO_OFFSET: LabOffset = [0, 0, 0];

const CLASSES = 5;

/** Index of the block that a pixel lies in. */
export function blockOf(features: ColourFeatures, index: number): number {
  const { width } = features.L;
  const row = (index / width) | 0;
  const column = index - row * width;
  return ((row / features.block) | 0) * features.aroundL.width + ((column / features.block) | 0);
}

/** Adds what a block says to `out` (five log odds): the colour of its surroundings and its mottling. */
export function addBlockEvidence(
  evidence: ColourEvidence,
  features: ColourFeatures,
  at: { readonly block: number; readonly offset: LabOffset },
  out: Float64Array,
): void {
  const { block, offset } = at;
  const { around, mottle } = evidence;
  const l = nearestNode(around.axes[0], features.aroundL.values[block] + offset[0]);
  const a = nearestNode(around.axes[1], features.aroundA.values[block] + offset[1]);
  const b = nearestNode(around.axes[2], features.aroundB.values[block] + offset[2]);
  addCell(around, (l * around.axes[1].nodes + a) * around.axes[2].nodes + b, out);
  const lightness = nearestNode(mottle.axes[0], Math.log(features.mottleLightness.values[block] + TEXTURE_OFFSET));
  const chroma = nearestNode(mottle.axes[1], Math.log(features.mottleChroma.values[block] + TEXTURE_OFFSET));
  addCell(mottle, lightness * mottle.axes[1].nodes + chroma, out);
}

export interface PixelAt {
  readonly index: number;
  readonly block: number;
  readonly offset: LabOffset;
  /** ln(grain + offset) of the block. */
  readonly logGrain: number;
  /** Bare lightness of the zone, L*; null leaves that table out. */
  readonly bareLightness: number | null;
}

/** Adds what the pixel itself says to `out`: its colour, its lightness with the grain round it, its place against bare steel. */
export function addPixelEvidence(
  evidence: ColourEvidence,
  features: ColourFeatures,
  at: PixelAt,
  out: Float64Array,
): void {
  const L = features.L.values[at.index] + at.offset[0];
  const a = features.a.values[at.index] + at.offset[1];
  const b = features.b.values[at.index] + at.offset[2];
  const { colour, grain, relative } = evidence;
  const cl = nearestNode(colour.axes[0], L);
  const ca = nearestNode(colour.axes[1], a);
  const cb = nearestNode(colour.axes[2], b);
  addCell(colour, (cl * colour.axes[1].nodes + ca) * colour.axes[2].nodes + cb, out);
  addCell(grain, nearestNode(grain.axes[0], at.logGrain) * grain.axes[1].nodes + nearestNode(grain.axes[1], L), out);
  if (at.bareLightness === null) return;
  const lift = nearestNode(relative.axes[0], L - at.bareLightness);
  const chroma = nearestNode(relative.axes[1], Math.sqrt(a * a + b * b));
  addCell(relative, lift * relative.axes[1].nodes + chroma, out);
}

export const logGrainOf = (features: ColourFeatures, block: number): number =>
  Math.log(features.grain.values[block] + TEXTURE_OFFSET);

function addCell(table: EvidenceTable, cell: number, out: Float64Array): void {
  const start = cell * CLASSES;
  for (let c = 0; c < CLASSES; c++) out[c] += table.values[start + c];
}
