import type { ReactNode } from 'react';
import { Glyph } from './glyph.tsx';

/** Drawn for this program on a 24 px grid: straight strokes, like a scriber's. */
const PATHS = {
  check: 'M4 20h16M7 15l4-10 6 6-10 4z',
  zones: 'M4 8V4h4M16 4h4v4M20 16v4h-4M8 20H4v-4M9 9h6v6H9z',
  jobs: 'M4 17l2 3h12l2-3zM6 17V9h9l3 8M9 9V5h3',
  more: 'M5 7h14M5 12h14M5 17h14',
  camera: 'M3 8h4l2-3h6l2 3h4v11H3zM12 17a4 4 0 1 0 0-8 4 4 0 0 0 0 8z',
  folder: 'M3 19V5h7l2 3h9v11z',
  scan: 'M4 8V4h4M16 4h4v4M20 16v4h-4M8 20H4v-4M4 12h16',
  search: 'M10.5 17a6.5 6.5 0 1 0 0-13 6.5 6.5 0 0 0 0 13zM15.5 15.5L21 21',
  next: 'M9 5l7 7-7 7',
  back: 'M15 5l-7 7 7 7',
  plus: 'M12 5v14M5 12h14',
  minus: 'M5 12h14',
  caution: 'M12 3L2 20h20zM12 9v6M12 17.2v.6',
  story: 'M5 4v16M5 7h5M5 12h9M5 17h14',
  print: 'M7 8V3h10v5M5 17H3V8h18v9h-2M7 14h10v7H7z',
  record: 'M5 3h10l4 4v14H5zM14 3v5h5M8 13h8M8 17h4',
  download: 'M12 4v11M7 10l5 5 5-5M4 20h16',
  ruler: 'M3 16L16 3l5 5L8 21zM7 12l2 2M10 9l3 3M13 6l2 2',
  divider: 'M12 3v18M8 8l-4 4 4 4M16 8l4 4-4 4',
  panes: 'M3 5h8v14H3zM13 5h8v14h-8z',
  cross: 'M6 6l12 12M18 6L6 18',
  tick: 'M4 13l5 5L20 6',
  inspect: 'M4 4h9v9H4zM4 8.5h9M8.5 4v9M15 15l6 6M13.5 18a4.5 4.5 0 1 0 0-9',
  teach: 'M3 5h18v12H3zM8 21l4-4 4 4M7 13l3-4 3 2 4-5',
  dial: 'M12 20a8 8 0 1 0 0-16 8 8 0 0 0 0 16zM12 12V6M3 12H1M23 12h-2M5 5L4 4M20 4l-1 1',
  card: 'M3 6h18v12H3zM6 9h3v3H6zM15 9h3v3h-3zM6 15h12',
  shop: 'M3 20V9l9-5 9 5v11zM8 20v-7h8v7',
  patches: 'M4 4h6v7H4zM14 4h6v7h-6zM4 14h6v6H4zM14 14h6v6h-6z',
  stripes: 'M3 5h18M3 9h18M3 13h18M3 17h18M5 21l14-18',
  quote: 'M6 3h9l4 4v14H6zM9 10h7M9 14h7M9 18h4',
  learned: 'M4 19c4 0 4-12 8-12s4 6 8 6M4 21h16M20 13v.1',
  person: 'M12 12a4 4 0 1 0 0-8 4 4 0 0 0 0 8zM4 21c0-5 4-7 8-7s8 2 8 7',
} as const;
export type IconName = keyof typeof PATHS;

export function Icon({ name, size = 24 }: { name: IconName; size?: number }): ReactNode {
  return (
    <Glyph size={size} strokeWidth="2" strokeLinejoin="round">
      <path d={PATHS[name]} />
    </Glyph>
  );
}
