import type { UseInfiniteQueryResult } from '@tanstack/react-query';
import { useDeferredValue, useState } from 'react';
import type { ReactNode } from 'react';
import { words } from '../i18n/words.ts';
import { Button } from './button.tsx';
import { TextField } from './field.tsx';
import { NotHereYet } from './waiting.tsx';

/** Words being typed, and the words to search for: the second follows when typing pauses. */
export function useSearch(): { typed: string; q: string | undefined; setTyped: (typed: string) => void } {
  const [typed, setTyped] = useState('');
  const q = useDeferredValue(typed.trim());
  return { typed, q: q === '' ? undefined : q, setTyped };
}

export function SearchBox({
  label,
  typed,
  onType,
}: {
  label: string;
  typed: string;
  onType: (typed: string) => void;
}): ReactNode {
  return (
    <TextField
      label={label}
      type="search"
      value={typed}
      maxLength={100}
      autoComplete="off"
      onChange={(event) => {
        onType(event.target.value);
      }}
    />
  );
}

interface Page<Item> {
  readonly items: readonly Item[];
}

/** A list that the server pages: rows, what stands there without any, and a key for more. */
export function Listing<Item extends { readonly id: string }>({
  pages,
  row,
  empty,
}: {
  pages: Pick<
    UseInfiniteQueryResult<{ pages: readonly Page<Item>[] }>,
    'data' | 'error' | 'refetch' | 'hasNextPage' | 'fetchNextPage' | 'isFetchingNextPage'
  >;
  row: (item: Item) => ReactNode;
  empty: ReactNode;
}): ReactNode {
  if (pages.data === undefined) return <NotHereYet reading={pages} />;
  const items = pages.data.pages.flatMap((page) => page.items);
  if (items.length === 0) return empty;
  return (
    <div className="stack">
      <ul className="rows">
        {items.map((item) => (
          <li key={item.id}>{row(item)}</li>
        ))}
      </ul>
      {pages.hasNextPage ? (
        <Button
          isBusy={pages.isFetchingNextPage}
          onClick={() => {
            void pages.fetchNextPage();
          }}
        >
          {words.more}
        </Button>
      ) : null}
    </div>
  );
}
