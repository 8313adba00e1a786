import { useRef } from 'react';
import type { CSSProperties, KeyboardEvent, PointerEvent, ReactNode } from 'react';
import { words } from '../../i18n/words.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import type { PhotoSize } from './outline-shape.ts';

interface HandleProps {
  readonly number: number;
  readonly corner: Point;
  readonly photo: PhotoSize;
  /** From a point of the window to a pixel of the photo. */
  readonly toPhoto: (x: number, y: number) => Point;
  readonly onHold: (isHeld: boolean) => void;
  readonly onMove: (point: Point) => void;
}

const DIRECTIONS: Readonly<Partial<Record<string, Point>>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
/** Share of the photo's longer side that one press moves a corner, and with Shift. */
const STEP = { fine: 1 / 400, coarse: 1 / 40 } as const;

/** One corner, large enough for a glove. The finger may take it anywhere; it does not jump under the finger. */
export function CornerHandle({ number, corner, photo, toPhoto, onHold, onMove }: HandleProps): ReactNode {
  const grip = useRef<Point | null>(null);
  const [across, down] = [(corner[0] / photo.widthPx) * 100, (corner[1] / photo.heightPx) * 100];
  const take = (event: PointerEvent<HTMLButtonElement>): void => {
    event.currentTarget.setPointerCapture(event.pointerId);
    const [x, y] = toPhoto(event.clientX, event.clientY);
    grip.current = [corner[0] - x, corner[1] - y];
    onHold(true);
  };
  const drag = (event: PointerEvent): void => {
    if (grip.current === null) return;
    const [x, y] = toPhoto(event.clientX, event.clientY);
    onMove([x + grip.current[0], y + grip.current[1]]);
  };
  const drop = (): void => {
    grip.current = null;
    onHold(false);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const direction = DIRECTIONS[event.key];
    if (direction === undefined) return;
    event.preventDefault();
    const step = Math.max(photo.widthPx, photo.heightPx) * (event.shiftKey ? STEP.coarse : STEP.fine);
    onMove([corner[0] + direction[0] * step, corner[1] + direction[1] * step]);
  };
  return (
    <button
      type="button"
      className="corner"
      style={{ '--across': `${across}%`, '--down': `${down}%` } as CSSProperties}
      aria-label={words.round.cornerAt(number, Math.round(across), Math.round(down))}
      onPointerDown={take}
      onPointerMove={drag}
      onPointerUp={drop}
      onPointerCancel={drop}
      onKeyDown={onKeyDown}
    >
      <span aria-hidden="true">{number}</span>
    </button>
  );
}
