import { useId } from 'react';
import type { CSSProperties, ReactNode } from 'react';
import { urlOf } from '../api/call.ts';
import type { Point } from '../viewer/plane-geometry.ts';

/** A piece of a photo, photo pixels. */
export interface PhotoWindow {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A piece of a photo with an outline drawn on it. */
export function PhotoCrop({
  photo,
  window,
  outline,
  alt,
  gain = 1,
}: {
  photo: { readonly id: string; readonly widthPx: number; readonly heightPx: number };
  window: PhotoWindow;
  outline: readonly Point[] | null;
  alt: string;
  /** Factor on the light, so that pictures taken in different light can be compared; 1 shows it as taken. */
  gain?: number;
}): ReactNode {
  const edge = outline === null ? '' : `M${outline.map((corner) => corner.join(' ')).join('L')}Z`;
  const filter = useId();
  return (
    <svg
      className="crop"
      viewBox={`${window.x} ${window.y} ${window.width} ${window.height}`}
      style={{ '--aspect': `${window.width} / ${window.height}` } as CSSProperties}
      role="img"
      aria-label={alt}
    >
      {gain === 1 ? null : (
        <filter id={filter} colorInterpolationFilters="linearRGB" x="0" y="0" width="1" height="1">
          <feComponentTransfer>
            <feFuncR type="linear" slope={gain} />
            <feFuncG type="linear" slope={gain} />
            <feFuncB type="linear" slope={gain} />
          </feComponentTransfer>
        </filter>
      )}
      <image
        href={urlOf('readDisplay', { params: { photoId: photo.id } })}
        width={photo.widthPx}
        height={photo.heightPx}
        filter={gain === 1 ? undefined : `url(#${filter})`}
      />
      <path d={edge} className="outline-casing" />
      <path d={edge} className="outline-edge" />
    </svg>
  );
}
