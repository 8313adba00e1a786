import type { Paint } from '@domain/api/corrections.ts';
import type { Marked } from '../../viewer/class-look.ts';

export const TOOLS = ['move', 'brush', 'polygon', 'fill'] as const;
export type Tool = (typeof TOOLS)[number];

/** Residue first, as it is corrected most. */
export const PAINTS = ['rust', 'scale', 'coating', 'stain', 'bare', 'not measured'] as const satisfies readonly Paint[];

/** How a class is drawn that can be painted. */
export const lookOf = (paint: Paint): Marked | 'bare' => (paint === 'not measured' ? 'notMeasured' : paint);

/** What the hand holds. */
export interface Brush {
  readonly tool: Tool;
  readonly paint: Paint;
  /** Pixels of the class map. */
  readonly radiusPx: number;
}
