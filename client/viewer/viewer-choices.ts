import { MARKED_CLASSES } from './class-look.ts';
import type { MarkedClass } from './class-look.ts';

export const VIEWS = ['divider', 'panes', 'after'] as const;
export type ViewName = (typeof VIEWS)[number];

/** What a person chose to see. */
export interface ViewerChoices {
  readonly view: ViewName;
  readonly shown: ReadonlySet<MarkedClass>;
  /** 0..1 */
  readonly opacity: number;
  readonly hasOutline: boolean;
  readonly hasWorst: boolean;
  readonly hasStreaks: boolean;
  readonly isMeasuring: boolean;
}

export const FIRST_CHOICES: ViewerChoices = {
  view: 'divider',
  shown: new Set(MARKED_CLASSES),
  opacity: 0.75,
  hasOutline: true,
  hasWorst: true,
  hasStreaks: false,
  isMeasuring: false,
};

export function toggleClass(shown: ReadonlySet<MarkedClass>, marked: MarkedClass): ReadonlySet<MarkedClass> {
  const next = new Set(shown);
  if (!next.delete(marked)) next.add(marked);
  return next;
}
