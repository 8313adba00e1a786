import type { Viewer } from 'openseadragon';
import { useEffect } from 'react';
import type { RefObject } from 'react';

/** One notch of a usual wheel, px, and the zoom it gives. */
const NOTCH_PX = 100;
const ZOOM_PER_NOTCH = 1.2;

/** Lets the wheel zoom the photo below a layer that takes the pointer for itself. */
export function useWheelZoom(layer: RefObject<HTMLElement | null>, viewer: Viewer): void {
  useEffect(() => {
    const element = layer.current;
    if (element === null) return undefined;
    const zoom = (event: WheelEvent): void => {
      event.preventDefault();
      viewer.viewport.zoomBy(ZOOM_PER_NOTCH ** (-event.deltaY / NOTCH_PX));
      viewer.viewport.applyConstraints();
    };
    element.addEventListener('wheel', zoom, { passive: false });
    return () => {
      element.removeEventListener('wheel', zoom);
    };
  }, [layer, viewer]);
}
