import { useId } from 'react';
import type { ReactNode } from 'react';
import { words } from '../../i18n/words.ts';

export function Slider(props: {
  label: string;
  shown: string;
  value: number;
  min: number;
  max: number;
  step: number;
  onMove: (value: number) => void;
}): ReactNode {
  const { label, shown, value, min, max, step, onMove } = props;
  const id = useId();
  return (
    <div className="slider">
      <span className="slider-head">
        <label htmlFor={id}>{label}</label>
        <strong>{shown}</strong>
      </span>
      <input
        id={id}
        type="range"
        min={min}
        max={max}
        step={step}
        value={value}
        aria-valuetext={words.dose.slider(label, shown)}
        onChange={(event) => {
          onMove(Number(event.target.value));
        }}
      />
    </div>
  );
}
