import { useId } from 'react';
import type { ReactNode } from 'react';
import { cssMatrix } from './affine.ts';
import type { PaneView } from './photo-pane.tsx';
import type { Point } from './plane-geometry.ts';

export interface PhotoMarks {
  readonly zone: readonly Point[] | null;
  readonly worst: readonly Point[] | null;
  readonly streaks: readonly (readonly Point[])[];
}

const open = (points: readonly Point[]): string =>
  points.length === 0 ? '' : `M${points.map((point) => point.join(' ')).join('L')}`;
const closed = (points: readonly Point[]): string => `${open(points)}Z`;

/** Lines drawn on the photo in its own pixels; they keep their width at every zoom. */
export function MarkLayer({ view, marks }: { view: PaneView; marks: PhotoMarks }): ReactNode {
  const clip = useId();
  const streaks = marks.streaks.map(open).join('');
  return (
    <svg className="pane-layer pane-marks" aria-hidden="true">
      {marks.zone === null ? null : (
        <clipPath id={clip}>
          <path d={closed(marks.zone)} transform={cssMatrix(view.toScreen)} />
        </clipPath>
      )}
      <g clipPath={marks.zone === null ? undefined : `url(#${clip})`}>
        <g transform={cssMatrix(view.toScreen)}>
          <path d={streaks} className="mark-casing mark-thin" />
          <path d={streaks} className="mark-line mark-thin mark-dashed" />
        </g>
      </g>
      <g transform={cssMatrix(view.toScreen)}>
        {marks.zone === null ? null : <CasedPath path={closed(marks.zone)} />}
        {marks.worst === null ? null : <CasedPath path={closed(marks.worst)} isBold />}
      </g>
    </svg>
  );
}

function CasedPath({ path, isBold = false }: { path: string; isBold?: boolean }): ReactNode {
  const weight = isBold ? ' mark-bold' : '';
  return (
    <>
      <path d={path} className={`mark-casing${weight}`} />
      <path d={path} className={`mark-line${weight}`} />
    </>
  );
}
