import type { ReactNode } from 'react';
import { cssMatrix } from '../../viewer/affine.ts';
import type { Affine } from '../../viewer/affine.ts';
import { colourOf } from '../../viewer/class-look.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { lookOf } from './tool.ts';
import type { Brush } from './tool.ts';

/** The stroke under the hand, the outline so far, and where the tool stands; in pixels of the class map. */
export function PaintDrawing({
  toScreen,
  brush,
  cursor,
  stroke,
  corners,
}: {
  toScreen: Affine;
  brush: Brush;
  cursor: Point | null;
  stroke: readonly Point[] | null;
  corners: readonly Point[];
}): ReactNode {
  const look = lookOf(brush.paint);
  const colour = look === 'bare' ? '#ffffff' : colourOf(look);
  return (
    <svg className="pane-layer" aria-hidden="true">
      <g transform={cssMatrix(toScreen)}>
        {stroke === null ? null : (
          <path
            d={strokePath(stroke)}
            className="paint-stroke"
            style={{ stroke: colour, strokeWidth: 2 * brush.radiusPx }}
          />
        )}
        {corners.length === 0 ? null : <OutlineSoFar corners={corners} cursor={cursor} />}
        {cursor === null ? null : <ToolMark brush={brush} at={cursor} />}
      </g>
    </svg>
  );
}

/** A single point is a stretch of no length, which round ends make a disc. */
const strokePath = (points: readonly Point[]): string =>
  `M${points[0].join(' ')}L${(points.length === 1 ? points : points.slice(1)).map((point) => point.join(' ')).join('L')}`;

function OutlineSoFar({ corners, cursor }: { corners: readonly Point[]; cursor: Point | null }): ReactNode {
  const path = `M${[...corners, ...(cursor === null ? [] : [cursor])].map((point) => point.join(' ')).join('L')}`;
  const dots = corners.map((corner) => `M${corner.join(' ')}h.01`).join('');
  return (
    <>
      <path d={path} className="mark-casing" />
      <path d={path} className="mark-line mark-dashed" />
      <path d={dots} className="paint-dot-casing" />
      <path d={dots} className="paint-dot" />
    </>
  );
}

function ToolMark({ brush, at }: { brush: Brush; at: Point }): ReactNode {
  if (brush.tool === 'brush') {
    return (
      <>
        <circle cx={at[0]} cy={at[1]} r={brush.radiusPx} className="mark-casing" />
        <circle cx={at[0]} cy={at[1]} r={brush.radiusPx} className="mark-line" />
      </>
    );
  }
  const dot = `M${at.join(' ')}h.01`;
  return (
    <>
      <path d={dot} className="paint-dot-casing" />
      <path d={dot} className="paint-dot" />
    </>
  );
}
