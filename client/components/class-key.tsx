import { useId } from 'react';
import type { ReactNode } from 'react';
import { CLASS_LOOKS, colourOf } from '../viewer/class-look.ts';
import type { Marked } from '../viewer/class-look.ts';

/** A pattern to fill with, in an SVG's definitions. Stain is dots, so its strokes are round. */
export function ClassPattern({ id, marked }: { id: string; marked: Marked }): ReactNode {
  return (
    <pattern id={id} width="8" height="8" patternUnits="userSpaceOnUse">
      <rect width="8" height="8" fill="#ffffff" />
      <path
        d={CLASS_LOOKS[marked].tile}
        stroke={colourOf(marked)}
        strokeWidth={marked === 'notMeasured' ? 4 : 3}
        strokeLinecap={marked === 'stain' ? 'round' : 'butt'}
        fill="none"
      />
    </pattern>
  );
}

/** The small field that stands for a class beside its word. */
export function ClassKey({ marked }: { marked: Marked | 'bare' }): ReactNode {
  const id = useId();
  return (
    <svg className="class-key" width="26" height="18" viewBox="0 0 26 18" aria-hidden="true">
      {marked === 'bare' ? null : (
        <defs>
          <ClassPattern id={id} marked={marked} />
        </defs>
      )}
      <rect
        x="1"
        y="1"
        width="24"
        height="16"
        fill={marked === 'bare' ? '#b9b9b9' : `url(#${id})`}
        stroke="currentColor"
      />
    </svg>
  );
}
