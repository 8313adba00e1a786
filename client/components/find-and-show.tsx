import { useState } from 'react';
import type { ReactNode } from 'react';
import { SearchBox, useSearch } from './listing.tsx';
import { PutAwayChoice } from './put-away-choice.tsx';
import type { PutAway } from './put-away-choice.tsx';

/** What a list is asked for: words that somebody typed, and whether what was put away counts. */
export interface FindAndShow {
  readonly typed: string;
  readonly q: string | undefined;
  readonly shown: PutAway;
  /** Whether this is less than, or other than, the usual list. */
  readonly isNarrowed: boolean;
  readonly type: (text: string) => void;
  readonly show: (choice: PutAway) => void;
}

export function useFindAndShow(): FindAndShow {
  const { typed, q, setTyped } = useSearch();
  const [shown, show] = useState<PutAway>('no');
  return { typed, q, shown, isNarrowed: q !== undefined || shown !== 'no', type: setTyped, show };
}

/** The row above a list that can be searched and holds things that were put away. */
export function FindAndShowRow(props: {
  list: FindAndShow;
  findLabel: string;
  showLabel: string;
  showWords: Readonly<Record<PutAway, string>>;
}): ReactNode {
  const { list, findLabel, showLabel, showWords } = props;
  return (
    <div className="grid-two">
      <SearchBox label={findLabel} typed={list.typed} onType={list.type} />
      <PutAwayChoice label={showLabel} words={showWords} value={list.shown} onChoose={list.show} />
    </div>
  );
}
