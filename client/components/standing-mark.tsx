import type { ReactNode } from 'react';
import { Glyph } from './glyph.tsx';

/** What a zone or an answer comes to; told by shape, never by colour alone. */
export type Mark = 'done' | 'round' | 'doubt' | 'other' | 'work' | 'none';

const SHAPES: Readonly<Record<Mark, ReactNode>> = {
  done: (
    <>
      <circle cx="12" cy="12" r="10" fill="currentColor" />
      <path d="M7 12.5l3.5 3.5L17 8.5" stroke="var(--mark-ground)" strokeWidth="2.6" />
    </>
  ),
  round: (
    <>
      <path d="M20.7 7A10 10 0 1 0 22 12" strokeWidth="3" />
      <path d="M22 2v6h-6" strokeWidth="3" />
    </>
  ),
  doubt: <circle cx="12" cy="12" r="9.5" strokeWidth="3" strokeDasharray="4 3.46" />,
  other: <path d="M3 7h7l4 10h7M17 13l4 4-4 4M3 17h5M14 7h7" strokeWidth="2.6" />,
  work: <path d="M12 2a10 10 0 0 1 0 20zM12 2a10 10 0 0 0 0 20" strokeWidth="2.4" fill="none" />,
  none: <circle cx="12" cy="12" r="9" strokeWidth="2" />,
};

export function StandingMark({ mark, size = 24 }: { mark: Mark; size?: number }): ReactNode {
  return <Glyph size={size}>{SHAPES[mark]}</Glyph>;
}
