import { useRef } from 'react';
import type { PointerEvent, ReactNode } from 'react';
import { Icon } from '../components/icon.tsx';
import { words } from '../i18n/words.ts';

const STEP = 0.02;
const STEPS: Readonly<Partial<Record<string, number>>> = {
  ArrowLeft: -STEP,
  ArrowDown: -STEP,
  ArrowRight: STEP,
  ArrowUp: STEP,
  PageDown: -5 * STEP,
  PageUp: 5 * STEP,
  Home: -1,
  End: 1,
};

/** The line between before and after, with a grip for a glove. */
export function DividerBar({ at, onMove }: { at: number; onMove: (at: number) => void }): ReactNode {
  const bar = useRef<HTMLDivElement>(null);
  const isHeld = useRef(false);
  const moveTo = (share: number): void => {
    onMove(Math.min(1, Math.max(0, share)));
  };
  const drag = (event: PointerEvent): void => {
    const box = bar.current?.parentElement?.getBoundingClientRect();
    if (isHeld.current && box !== undefined) moveTo((event.clientX - box.left) / box.width);
  };
  return (
    <div ref={bar} className="divider" style={{ left: `${at * 100}%` }}>
      <div
        className="divider-grip"
        role="slider"
        tabIndex={0}
        aria-label={words.story.divider}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={Math.round(at * 100)}
        aria-valuetext={words.story.dividerAt(Math.round(at * 100))}
        onKeyDown={(event) => {
          const step = STEPS[event.key];
          if (step === undefined) return;
          event.preventDefault();
          moveTo(at + step);
        }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          isHeld.current = true;
        }}
        onPointerMove={drag}
        onPointerUp={() => {
          isHeld.current = false;
        }}
      >
        <Icon name="divider" />
      </div>
    </div>
  );
}
