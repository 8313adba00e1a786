import type { Viewer } from 'openseadragon';
import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import { useAnswer } from '../api/use-answer.ts';
import { Waiting } from '../components/waiting.tsx';
import { words } from '../i18n/words.ts';
import type { Affine } from './affine.ts';
import { openDeepZoom, photoToScreen, showCorners } from './deep-zoom.ts';
import type { PictureFrame } from './picture-frame.ts';

/** How a pane shows its photo just now. */
export interface PaneView {
  readonly toScreen: Affine;
  readonly widthPx: number;
  readonly heightPx: number;
}

interface PaneProps {
  readonly frame: PictureFrame;
  readonly word: string;
  /** Called with the viewer when it is open, and with null when it is gone. */
  readonly onViewer: (viewer: Viewer | null) => void;
  /** What lies over the photo. */
  readonly children: (view: PaneView, viewer: Viewer) => ReactNode;
}

/** One photo to look at closely, on neutral grey. */
export function PhotoPane({ frame, word, onViewer, children }: PaneProps): ReactNode {
  const { photoId, zonePx } = frame;
  const pyramid = useAnswer('readTilePyramid', { params: { photoId } }, { staleTime: Infinity });
  const ground = useRef<HTMLDivElement>(null);
  const [viewer, setViewer] = useState<Viewer | null>(null);
  const view = usePaneView(viewer);
  const report = useRef(onViewer);
  report.current = onViewer;
  useEffect(() => {
    const element = ground.current;
    if (element === null || pyramid.data === undefined) return undefined;
    let opened: Viewer | null = null;
    let isGone = false;
    void openDeepZoom(element, { photoId, pyramid: pyramid.data }).then((ready) => {
      opened = ready;
      if (isGone) {
        ready.destroy();
        return;
      }
      nameForReaders(ready, word);
      if (zonePx !== null) showCorners(ready, zonePx, true);
      setViewer(ready);
      report.current(ready);
    });
    return () => {
      isGone = true;
      report.current(null);
      setViewer(null);
      opened?.destroy();
    };
  }, [photoId, pyramid.data, word, zonePx]);
  return (
    <div className="pane">
      <div ref={ground} className="pane-ground" />
      {viewer === null || view === null ? <Waiting word={words.story.loadingViewer} /> : children(view, viewer)}
    </div>
  );
}

function nameForReaders(viewer: Viewer, word: string): void {
  const { canvas } = viewer;
  canvas.setAttribute('role', 'application');
  canvas.setAttribute('aria-label', words.story.viewerAlt(word));
}

/** Follows the viewer frame by frame. */
function usePaneView(viewer: Viewer | null): PaneView | null {
  const [view, setView] = useState<PaneView | null>(null);
  useEffect(() => {
    if (viewer === null) {
      setView(null);
      return undefined;
    }
    const look = (): void => {
      const size = viewer.viewport.getContainerSize();
      const [widthPx, heightPx] = [Math.round(size.x), Math.round(size.y)];
      const toScreen = photoToScreen(viewer);
      setView((before) =>
        before !== null && isSame(before, { toScreen, widthPx, heightPx }) ? before : { toScreen, widthPx, heightPx },
      );
    };
    look();
    viewer.addHandler('update-viewport', look);
    viewer.addHandler('resize', look);
    return () => {
      viewer.removeHandler('update-viewport', look);
      viewer.removeHandler('resize', look);
    };
  }, [viewer]);
  return view;
}

const isSame = (a: PaneView, b: PaneView): boolean =>
  a.widthPx === b.widthPx && a.heightPx === b.heightPx && a.toScreen.every((part, index) => part === b.toScreen[index]);
