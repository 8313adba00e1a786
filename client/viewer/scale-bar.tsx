import type { ReactNode } from 'react';
import { formatNumber } from '../units/shown-units.ts';
import { useUnits } from '../units/use-units.ts';
import { applyAffine, invertAffine } from './affine.ts';
import { niceLength } from './nice-length.ts';
import type { PaneView } from './photo-pane.tsx';
import { distance, mapPoint } from './plane-geometry.ts';
import type { PlaneMap } from './plane-geometry.ts';

/** Share of the pane's width that the bar takes at most. */
const MOST_SHARE = 0.35;
/** Length over which the scale is taken in the middle of the pane, px of the screen. */
const PROBE_PX = 40;

/** A length in true size for the middle of the picture; a tilted photo has another scale at its rim. */
export function ScaleBar({ view, toMm }: { view: PaneView; toMm: PlaneMap }): ReactNode {
  const units = useUnits();
  const scale = mmPerScreenPx(view, toMm);
  if (scale === null) return null;
  const length = niceLength(units.lengthOf(scale * view.widthPx * MOST_SHARE));
  const widthPx = units.millimetresOf(length) / scale;
  return (
    <p className="scale-bar">
      <span>
        {formatNumber(length, 3)} {units.lengthUnit}
      </span>
      <svg width={widthPx} height="10" aria-hidden="true">
        <path d={`M1 0v9H${widthPx - 1}V0`} className="scale-casing" />
        <path d={`M1 0v9H${widthPx - 1}V0`} className="scale-line" />
      </svg>
    </p>
  );
}

function mmPerScreenPx({ toScreen, widthPx, heightPx }: PaneView, toMm: PlaneMap): number | null {
  const toPhoto = invertAffine(toScreen);
  const middle = [widthPx / 2, heightPx / 2] as const;
  const left = mapPoint(toMm, applyAffine(toPhoto, [middle[0] - PROBE_PX / 2, middle[1]]));
  const right = mapPoint(toMm, applyAffine(toPhoto, [middle[0] + PROBE_PX / 2, middle[1]]));
  if (left === null || right === null) return null;
  const scale = distance(left, right) / PROBE_PX;
  return scale > 0 && Number.isFinite(scale) ? scale : null;
}
