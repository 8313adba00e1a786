import type { ReactNode } from 'react';
import { words } from '../../i18n/words.ts';

/** What a good photo looks like, drawn and in words. */
export function FramingAdvice(): ReactNode {
  return (
    <div className="framing">
      <svg viewBox="0 0 160 120" className="framing-picture" role="img" aria-label={words.round.framingAlt}>
        <rect x="1" y="1" width="158" height="118" rx="4" className="framing-photo" />
        <g className="framing-corners">
          <path d="M8 18V8h10M142 8h10v10M152 102v10h-10M18 112H8v-10" />
        </g>
        <path d="M70 28l64 4-3 58-64-4z" className="framing-zone" />
        <g className="framing-card">
          <rect x="22" y="44" width="36" height="24" rx="1" />
          <path d="M25 47h5v5h-5zM50 47h5v5h-5zM25 60h5v5h-5zM50 60h5v5h-5z" />
          <path d="M33 50h14M33 56h14M33 62h14" />
        </g>
      </svg>
      <ul className="points">
        {words.round.framingPoints.map((point) => (
          <li key={point}>{point}</li>
        ))}
      </ul>
    </div>
  );
}
