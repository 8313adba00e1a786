import type { Viewer } from 'openseadragon';
import type { TilePyramid } from '@domain/api/photos.ts';
import { urlOf } from '../api/call.ts';
import type { Affine } from './affine.ts';
import { zoomOf } from './affine.ts';
import type { Point, Similarity } from './plane-geometry.ts';

/** Deepest zoom, screen pixels for one pixel of the photo. */
const MOST_ZOOM = 8;
const DEGREES_PER_RADIAN = 180 / Math.PI;

/** Shows a photo by its tiles. The library is fetched only when a photo is looked at closely. */
export async function openDeepZoom(
  element: HTMLElement,
  { photoId, pyramid }: { photoId: string; pyramid: TilePyramid },
): Promise<Viewer> {
  const { default: OpenSeadragon } = await import('openseadragon');
  const { widthPx, heightPx, tileSizePx, levels } = pyramid;
  const viewer = OpenSeadragon({
    element,
    // Both drawers are in the library; the plain one needs no graphics card.
    drawer: 'canvas',
    showNavigationControl: false,
    maxZoomPixelRatio: MOST_ZOOM,
    visibilityRatio: 0.5,
    animationTime: matchMedia('(prefers-reduced-motion: reduce)').matches ? 0 : 0.35,
    gestureSettingsMouse: { clickToZoom: false, dblClickToZoom: true },
    gestureSettingsTouch: { clickToZoom: false, dblClickToZoom: true, pinchRotate: false },
    tileSources: {
      width: widthPx,
      height: heightPx,
      tileSize: tileSizePx,
      tileOverlap: 0,
      minLevel: 0,
      maxLevel: levels - 1,
      getLevelScale: (level: number) => 1 / 2 ** (levels - 1 - level),
      getTileUrl: (level: number, column: number, row: number) =>
        urlOf('readTile', { params: { photoId, level: String(level), column: String(column), row: String(row) } }),
    } as never,
  });
  await new Promise<void>((resolve, reject) => {
    viewer.addOnceHandler('open', () => {
      resolve();
    });
    viewer.addOnceHandler('open-failed', () => {
      reject(new Error('Expected the tiles of a photo'));
    });
  });
  return viewer;
}

/** From pixels of the photo to pixels of the viewer's element, as it is on screen now. */
export function photoToScreen(viewer: Viewer): Affine {
  const { viewport } = viewer;
  const at = (x: number, y: number): Point => {
    const pixel = viewport.pixelFromPoint(viewport.imageToViewportCoordinates(x, y), true);
    return [pixel.x, pixel.y];
  };
  const [origin, right, down] = [at(0, 0), at(1000, 0), at(0, 1000)];
  return [
    (right[0] - origin[0]) / 1000,
    (right[1] - origin[1]) / 1000,
    (down[0] - origin[0]) / 1000,
    (down[1] - origin[1]) / 1000,
    origin[0],
    origin[1],
  ];
}

/** Lets one viewer look at the same surface as another one, at the same size and the same way up. */
export function follow(follower: Viewer, leader: Viewer, toFollower: Similarity): void {
  const from = leader.viewport;
  const to = follower.viewport;
  const centre = from.viewportToImageCoordinates(from.getCenter(true));
  const [x, y] = toFollower.apply([centre.x, centre.y]);
  const imageZoom = zoomOf(photoToScreen(leader)) / toFollower.zoom;
  to.setRotation(from.getRotation(true) - toFollower.turnRadians * DEGREES_PER_RADIAN, true);
  to.zoomTo(to.imageToViewportZoom(imageZoom), undefined, true);
  to.panTo(to.imageToViewportCoordinates(x, y), true);
}

/** Brings corners of the photo into view with room around them. */
export function showCorners(viewer: Viewer, corners: readonly Point[], isInstant: boolean): void {
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const [left, top, right, bottom] = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const room = 0.08 * Math.max(right - left, bottom - top);
  const box = viewer.viewport.imageToViewportRectangle(
    left - room,
    top - room,
    right - left + 2 * room,
    bottom - top + 2 * room,
  );
  viewer.viewport.fitBounds(box, isInstant);
}
