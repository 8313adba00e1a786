import type { Viewer } from 'openseadragon';
import type { ReactNode } from 'react';
import type { PaintMark } from '@domain/api/corrections.ts';
import type { ClassMap } from '@domain/paint-class-map.ts';
import { words } from '../../i18n/words.ts';
import '../../styles/viewer.css';
import { ClassCanvas } from '../../viewer/class-canvas.tsx';
import { MARKED_CLASSES } from '../../viewer/class-look.ts';
import type { Marked } from '../../viewer/class-look.ts';
import { MarkLayer } from '../../viewer/mark-layer.tsx';
import { PhotoPane } from '../../viewer/photo-pane.tsx';
import type { PictureFrame } from '../../viewer/picture-frame.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { ScaleBar } from '../../viewer/scale-bar.tsx';
import { PaintLayer } from './paint-layer.tsx';
import type { Brush } from './tool.ts';

const ALL: ReadonlySet<Marked> = new Set(MARKED_CLASSES);
const DOUBT: ReadonlySet<Marked> = new Set(['doubtful']);
const OPACITY = 0.8;
/** The classes step back while the doubt is looked at. */
const OPACITY_BEHIND = 0.25;

interface PaneProps {
  readonly frame: PictureFrame;
  readonly map: ClassMap | undefined;
  readonly doubtful: ClassMap | undefined;
  readonly photoPxPerPixel: number;
  readonly brush: Brush;
  readonly corners: readonly Point[];
  readonly onCorners: (corners: readonly Point[]) => void;
  readonly onMark: (mark: PaintMark) => void;
  readonly onViewer: (viewer: Viewer | null) => void;
}

/** The photo with its class map, and the tool over it. */
export function CorrectionPane(props: PaneProps): ReactNode {
  const { frame, map, doubtful, photoPxPerPixel, brush, onViewer } = props;
  return (
    <div className="stage">
      <div className="viewer-pane">
        <PhotoPane frame={frame} word={words.inspect.paneWord} onViewer={onViewer}>
          {(view, opened) => (
            <>
              {map === undefined ? null : (
                <ClassCanvas
                  map={map}
                  photoPxPerPixel={photoPxPerPixel}
                  view={view}
                  shown={ALL}
                  opacity={doubtful === undefined ? OPACITY : OPACITY_BEHIND}
                />
              )}
              {doubtful === undefined ? null : (
                <ClassCanvas map={doubtful} photoPxPerPixel={photoPxPerPixel} view={view} shown={DOUBT} opacity={1} />
              )}
              <MarkLayer view={view} marks={{ zone: frame.zonePx, worst: null, streaks: [] }} />
              {frame.toMm === null ? null : <ScaleBar view={view} toMm={frame.toMm} />}
              {brush.tool === 'move' || map === undefined ? null : (
                <PaintLayer {...props} view={view} viewer={opened} map={map} />
              )}
            </>
          )}
        </PhotoPane>
      </div>
    </div>
  );
}
