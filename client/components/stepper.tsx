import { useId, useState } from 'react';
import type { KeyboardEvent, ReactNode } from 'react';
import { words } from '../i18n/words.ts';
import { Icon } from './icon.tsx';
import { stepOf } from './step-of.ts';
import type { Dial } from './step-of.ts';

interface StepperProps {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly dial: Dial;
  /** How the value is written; the dial itself counts in its own unit. */
  readonly shown: string;
  /** What a typed number means on the dial; null for no number. */
  readonly read: (text: string) => number | null;
  readonly onChange: (value: number) => void;
  readonly note?: string | undefined;
}

/** A number with a big key on each side: one press is one step of the machine's dial. */
export function Stepper(props: StepperProps): ReactNode {
  const { label, unit, value, dial, shown, note, onChange } = props;
  const id = useId();
  const move = (steps: number): void => {
    onChange(stepOf(value, steps, dial));
  };
  return (
    <div className="stepper">
      <label htmlFor={id} className="stepper-label">
        {label}
      </label>
      <div className="stepper-row">
        <StepKey
          icon="minus"
          label={words.stepper.less(label)}
          isAtEnd={value <= dial.min}
          onPress={() => {
            move(-1);
          }}
        />
        <StepperBox {...props} id={id} move={move} />
        <StepKey
          icon="plus"
          label={words.stepper.more(label)}
          isAtEnd={value >= dial.max}
          onPress={() => {
            move(1);
          }}
        />
      </div>
      <span className="unseen" role="status">
        {`${label} ${shown} ${unit}`}
      </span>
      {note === undefined ? null : <p className="stepper-note">{note}</p>}
    </div>
  );
}

function StepKey({
  icon,
  label,
  isAtEnd,
  onPress,
}: {
  icon: 'plus' | 'minus';
  label: string;
  isAtEnd: boolean;
  onPress: () => void;
}): ReactNode {
  return (
    <button type="button" className="stepper-key" aria-label={label} aria-disabled={isAtEnd} onClick={onPress}>
      <Icon name={icon} size={28} />
    </button>
  );
}

const STEPS_OF_KEY: Readonly<Partial<Record<string, number>>> = {
  ArrowUp: 1,
  ArrowDown: -1,
  PageUp: 10,
  PageDown: -10,
};

function StepperBox({
  id,
  unit,
  dial,
  shown,
  read,
  onChange,
  move,
}: StepperProps & { id: string; move: (steps: number) => void }): ReactNode {
  const [typed, setTyped] = useState<string | null>(null);
  const keep = (): void => {
    const value = typed === null ? null : read(typed);
    if (value !== null) onChange(Math.min(dial.max, Math.max(dial.min, value)));
    setTyped(null);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const steps = STEPS_OF_KEY[event.key];
    if (steps !== undefined) {
      event.preventDefault();
      setTyped(null);
      move(steps);
    }
    if (event.key === 'Enter') keep();
  };
  return (
    <span className="stepper-box">
      <input
        id={id}
        className="stepper-value"
        inputMode="decimal"
        autoComplete="off"
        value={typed ?? shown}
        onChange={(event) => {
          setTyped(event.target.value);
        }}
        onBlur={keep}
        onKeyDown={onKeyDown}
      />
      <span className="stepper-unit">{unit}</span>
    </span>
  );
}
