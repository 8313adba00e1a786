import type { ReactNode } from 'react';
import { SelectField } from './field.tsx';

const CHOICES = ['no', 'yes', 'all'] as const;
export type PutAway = (typeof CHOICES)[number];

/** Which part of a list is shown: what is in use, what was put away, or both. */
export function PutAwayChoice({
  label,
  words,
  value,
  onChoose,
}: {
  label: string;
  words: Readonly<Record<PutAway, string>>;
  value: PutAway;
  onChoose: (value: PutAway) => void;
}): ReactNode {
  return (
    <SelectField
      label={label}
      value={value}
      choices={CHOICES.map((each) => ({ value: each, word: words[each] }))}
      onChange={(event) => {
        onChoose(CHOICES.find((each) => each === event.target.value) ?? 'no');
      }}
    />
  );
}
