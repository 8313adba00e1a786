import { useId } from 'react';
import type { ReactNode } from 'react';

interface Option<Value extends string> {
  readonly value: Value;
  readonly word: string;
  /** Drawn before the word. */
  readonly mark?: ReactNode;
}

/** One of a few, all in sight: radio buttons drawn as a row of keys. */
export function PickOne<Value extends string>({
  label,
  options,
  value,
  onPick,
  isLabelUnseen = false,
  isNarrow = false,
}: {
  label: string;
  options: readonly Option<Value>[];
  value: Value;
  onPick: (value: Value) => void;
  isLabelUnseen?: boolean;
  isNarrow?: boolean;
}): ReactNode {
  const name = useId();
  return (
    <fieldset className={isNarrow ? 'pick pick-narrow' : 'pick'}>
      <legend className={isLabelUnseen ? 'unseen' : undefined}>{label}</legend>
      <div className="pick-row">
        {options.map((option) => (
          <label key={option.value} className="pick-key">
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => {
                onPick(option.value);
              }}
            />
            {option.mark}
            <span>{option.word}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
