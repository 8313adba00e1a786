import { useId } from 'react';
import type { InputHTMLAttributes, ReactNode, SelectHTMLAttributes, TextareaHTMLAttributes } from 'react';

interface Frame {
  readonly label: string;
  readonly hint?: string | undefined;
  readonly error?: string | undefined;
}

/** Label above, hint below, error in words: the order a screen reader says them in too. */
function FieldFrame({ id, label, hint, error, children }: Frame & { id: string; children: ReactNode }): ReactNode {
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {children}
      {hint === undefined ? null : (
        <p id={`${id}-hint`} className="field-hint">
          {hint}
        </p>
      )}
      {error === undefined ? null : (
        <p id={`${id}-error`} className="field-error">
          {error}
        </p>
      )}
    </div>
  );
}

function describedBy(id: string, { hint, error }: Pick<Frame, 'hint' | 'error'>): string | undefined {
  const ids = [hint === undefined ? null : `${id}-hint`, error === undefined ? null : `${id}-error`];
  const known = ids.filter((each) => each !== null);
  return known.length === 0 ? undefined : known.join(' ');
}

export function TextField({
  label,
  hint,
  error,
  suffix,
  ...rest
}: Frame & { suffix?: string } & InputHTMLAttributes<HTMLInputElement>): ReactNode {
  const id = useId();
  return (
    <FieldFrame id={id} label={label} hint={hint} error={error}>
      <span className="field-box">
        <input
          {...rest}
          id={id}
          className="input"
          aria-invalid={error !== undefined}
          aria-describedby={describedBy(id, { hint, error })}
        />
        {suffix === undefined ? null : <span className="field-suffix">{suffix}</span>}
      </span>
    </FieldFrame>
  );
}

export function TextArea({
  label,
  hint,
  error,
  ...rest
}: Frame & TextareaHTMLAttributes<HTMLTextAreaElement>): ReactNode {
  const id = useId();
  return (
    <FieldFrame id={id} label={label} hint={hint} error={error}>
      <textarea rows={3} {...rest} id={id} className="input" aria-describedby={describedBy(id, { hint, error })} />
    </FieldFrame>
  );
}

export interface Choice {
  readonly value: string;
  readonly word: string;
}

export function SelectField({
  label,
  hint,
  error,
  choices,
  ...rest
}: Frame & { choices: readonly Choice[] } & SelectHTMLAttributes<HTMLSelectElement>): ReactNode {
  const id = useId();
  return (
    <FieldFrame id={id} label={label} hint={hint} error={error}>
      <select {...rest} id={id} className="input" aria-describedby={describedBy(id, { hint, error })}>
        {choices.map(({ value, word }) => (
          <option key={value} value={value}>
            {word}
          </option>
        ))}
      </select>
    </FieldFrame>
  );
}
