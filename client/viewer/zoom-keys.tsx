import type { Viewer } from 'openseadragon';
import type { ReactNode } from 'react';
import { Button } from '../components/button.tsx';
import { words } from '../i18n/words.ts';
import { showCorners } from './deep-zoom.ts';
import type { PictureFrame } from './picture-frame.ts';

const ZOOM_STEP = 1.5;

/** Looking closer without a wheel or two fingers. */
export function ZoomKeys({ viewer, frame }: { viewer: Viewer | null; frame: PictureFrame }): ReactNode {
  const zoomBy = (factor: number): void => {
    viewer?.viewport.zoomBy(factor);
    viewer?.viewport.applyConstraints();
  };
  const { zonePx } = frame;
  return (
    <div className="row">
      <Button
        icon="plus"
        onClick={() => {
          zoomBy(ZOOM_STEP);
        }}
      >
        {words.story.zoomIn}
      </Button>
      <Button
        icon="minus"
        onClick={() => {
          zoomBy(1 / ZOOM_STEP);
        }}
      >
        {words.story.zoomOut}
      </Button>
      <Button onClick={() => viewer?.viewport.goHome()}>{words.story.zoomAll}</Button>
      {zonePx === null ? null : (
        <Button
          onClick={() => {
            if (viewer !== null) showCorners(viewer, zonePx, false);
          }}
        >
          {words.story.zoomZone}
        </Button>
      )}
    </div>
  );
}
