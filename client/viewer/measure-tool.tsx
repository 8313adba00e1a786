import { useState } from 'react';
import type { KeyboardEvent, PointerEvent, ReactNode } from 'react';
import { words } from '../i18n/words.ts';
import { useUnits } from '../units/use-units.ts';
import { applyAffine, invertAffine } from './affine.ts';
import type { PaneView } from './photo-pane.tsx';
import { distance, mapPoint } from './plane-geometry.ts';
import type { PlaneMap, Point } from './plane-geometry.ts';

const STEPS: Readonly<Partial<Record<string, Point>>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
const COARSE = 12;
/** Interval of two standard deviations, about 95 %. */
const COVERAGE_FACTOR = 2;
/** A finger or arrow key is put down no closer than this to what is meant, px of the photo. Common practice. */
const AIM_PX = 1;

interface MeasureProps {
  readonly view: PaneView;
  readonly toMm: PlaneMap;
  /** Standard deviation of the scale as a share of it, from the card. */
  readonly scaleSigma: number;
}

/** Two ends and the distance between them on the surface. The ends stay on the steel when the photo moves. */
export function MeasureTool({ view, toMm, scaleSigma }: MeasureProps): ReactNode {
  const units = useUnits();
  const [ends, setEnds] = useState<readonly [Point, Point]>(() => firstEnds(view));
  const [a, b] = ends.map((end) => applyAffine(view.toScreen, end));
  const length = lengthMm(ends, toMm);
  const move = (index: number, screen: Point): void => {
    const moved = applyAffine(invertAffine(view.toScreen), screen);
    setEnds(index === 0 ? [moved, ends[1]] : [ends[0], moved]);
  };
  return (
    <div className="pane-layer measure">
      <svg className="pane-layer" aria-hidden="true">
        <path d={`M${a.join(' ')}L${b.join(' ')}`} className="mark-casing mark-bold" />
        <path d={`M${a.join(' ')}L${b.join(' ')}`} className="mark-line" />
      </svg>
      {[a, b].map((at, index) => (
        <MeasureEnd
          key={index}
          letter={index === 0 ? 'A' : 'B'}
          at={at}
          onMove={(screen) => {
            move(index, screen);
          }}
        />
      ))}
      <p className="measure-length" role="status">
        {length === null
          ? words.story.noPlane
          : words.story.measured(
              units.length(length.mm),
              units.length(COVERAGE_FACTOR * length.mm * scaleSigma + length.aimMm),
            )}
      </p>
    </div>
  );
}

function firstEnds({ toScreen, widthPx, heightPx }: PaneView): readonly [Point, Point] {
  const toPhoto = invertAffine(toScreen);
  return [applyAffine(toPhoto, [widthPx * 0.35, heightPx / 2]), applyAffine(toPhoto, [widthPx * 0.65, heightPx / 2])];
}

function lengthMm([a, b]: readonly [Point, Point], toMm: PlaneMap): { mm: number; aimMm: number } | null {
  const [from, to, beside] = [mapPoint(toMm, a), mapPoint(toMm, b), mapPoint(toMm, [a[0] + AIM_PX, a[1]])];
  if (from === null || to === null || beside === null) return null;
  return { mm: distance(from, to), aimMm: Math.SQRT2 * distance(from, beside) };
}

function MeasureEnd({ letter, at, onMove }: { letter: string; at: Point; onMove: (screen: Point) => void }): ReactNode {
  const [isHeld, setHeld] = useState(false);
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    const size = event.shiftKey ? COARSE : 1;
    onMove([at[0] + step[0] * size, at[1] + step[1] * size]);
  };
  const drag = (event: PointerEvent<HTMLButtonElement>): void => {
    const box = event.currentTarget.offsetParent?.getBoundingClientRect();
    if (isHeld && box !== undefined) onMove([event.clientX - box.left, event.clientY - box.top]);
  };
  return (
    <button
      type="button"
      className="measure-end"
      style={{ transform: `translate(${at[0]}px, ${at[1]}px)` }}
      aria-label={words.story.measurePoint(letter)}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        setHeld(true);
      }}
      onPointerMove={drag}
      onPointerUp={() => {
        setHeld(false);
      }}
    >
      <span aria-hidden="true">{letter}</span>
    </button>
  );
}
