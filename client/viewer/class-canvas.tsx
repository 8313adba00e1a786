import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import type { ClassMap } from '@domain/paint-class-map.ts';
import { chainAffine, cssMatrix, invertAffine } from './affine.ts';
import type { Affine } from './affine.ts';
import type { Marked } from './class-look.ts';
import { paintClassPixels } from './paint-class-pixels.ts';
import type { PaneView } from './photo-pane.tsx';

/** Size of a pattern on the screen, px. */
const PATTERN_PX = 9;
/** The picture is painted again when the photo has rested for so long, ms. */
const REST_MS = 90;

/**
 * Classes over the photo. While the photo moves the painted picture moves with it; as soon as it rests, the patterns are
 * painted anew at their proper size.
 */
export function ClassCanvas({
  map,
  photoPxPerPixel,
  view,
  shown,
  opacity,
}: {
  map: ClassMap;
  photoPxPerPixel: number;
  view: PaneView;
  shown: ReadonlySet<Marked>;
  opacity: number;
}): ReactNode {
  const canvas = useRef<HTMLCanvasElement>(null);
  const painted = useRef<Affine | null>(null);
  useEffect(() => {
    moveAlong(canvas.current, painted.current, view.toScreen);
    const timer = setTimeout(() => {
      if (canvas.current === null) return;
      paint(canvas.current, { map, photoPxPerPixel, view, shown });
      painted.current = view.toScreen;
      moveAlong(canvas.current, painted.current, view.toScreen);
    }, REST_MS);
    return () => {
      clearTimeout(timer);
    };
  }, [map, photoPxPerPixel, view, shown]);
  return <canvas ref={canvas} className="pane-layer" style={{ opacity }} aria-hidden="true" />;
}

function moveAlong(canvas: HTMLCanvasElement | null, painted: Affine | null, now: Affine): void {
  if (canvas === null || painted === null) return;
  canvas.style.transform = cssMatrix(chainAffine(invertAffine(painted), now));
}

function paint(
  canvas: HTMLCanvasElement,
  {
    map,
    photoPxPerPixel,
    view,
    shown,
  }: { map: ClassMap; photoPxPerPixel: number; view: PaneView; shown: ReadonlySet<Marked> },
): void {
  const { widthPx, heightPx, toScreen } = view;
  canvas.width = widthPx;
  canvas.height = heightPx;
  const shrink: Affine = [1 / photoPxPerPixel, 0, 0, 1 / photoPxPerPixel, 0, 0];
  const toMap = chainAffine(invertAffine(toScreen), shrink);
  const pixels = paintClassPixels(map, { widthPx, heightPx, toMap, shown, unitPx: PATTERN_PX });
  canvas.getContext('2d')?.putImageData(new ImageData(pixels, widthPx, heightPx), 0, 0);
}
