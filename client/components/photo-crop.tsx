import { useId } from 'react';
import type { CSSProperties, ReactNode } from 'react';
import { urlOf } from '../api/call.ts';
import type { PictureLight } from '@domain/picture-light.ts';
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
  light = null,
}: {
  photo: { readonly id: string; readonly widthPx: number; readonly heightPx: number };
  window: PhotoWindow;
  outline: readonly Point[] | null;
  alt: string;
  /** Shows it in true colour, so that pictures taken in different light can be compared; null shows it as taken. */
  light?: PictureLight | null;
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
      {light === null ? null : (
        <filter id={filter} x="0" y="0" width="1" height="1">
          <feComponentTransfer colorInterpolationFilters="sRGB">
            <feFuncR type="table" tableValues={light.curves.red.join(' ')} />
            <feFuncG type="table" tableValues={light.curves.green.join(' ')} />
            <feFuncB type="table" tableValues={light.curves.blue.join(' ')} />
          </feComponentTransfer>
          <feColorMatrix colorInterpolationFilters="linearRGB" values={matrixOf(light)} />
        </filter>
      )}
      <image
        href={urlOf('readDisplay', { params: { photoId: photo.id } })}
        width={photo.widthPx}
        height={photo.heightPx}
        filter={light === null ? undefined : `url(#${filter})`}
      />
      <path d={edge} className="outline-casing" />
      <path d={edge} className="outline-edge" />
    </svg>
  );
}

/** With the column for opacity, which stays as it is. */
const matrixOf = ({ matrix: m }: PictureLight): string =>
  [...[0, 3, 6].flatMap((row) => [m[row], m[row + 1], m[row + 2], 0, 0]), 0, 0, 0, 1, 0].join(' ');
