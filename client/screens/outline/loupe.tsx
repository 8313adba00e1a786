import type { CSSProperties, ReactNode } from 'react';
import type { Point } from '../../viewer/plane-geometry.ts';
import type { PhotoSize } from './outline-shape.ts';

/** Width of the whole photo behind the loupe, px of the screen. */
const LOUPE_PHOTO_WIDTH = 1600;

/** What lies under the finger, beside it: in the corner of the picture that is farther away. */
export function Loupe({ source, photo, at: [x, y] }: { source: string; photo: PhotoSize; at: Point }): ReactNode {
  const zoom = LOUPE_PHOTO_WIDTH / photo.widthPx;
  const isLeft = x > photo.widthPx / 2;
  const style = {
    backgroundImage: `url("${source}")`,
    backgroundSize: `${LOUPE_PHOTO_WIDTH}px auto`,
    backgroundPosition: `calc(var(--half) - ${x * zoom}px) calc(var(--half) - ${y * zoom}px)`,
  } as CSSProperties;
  return <div className={isLeft ? 'loupe loupe-left' : 'loupe'} style={style} aria-hidden="true" />;
}
