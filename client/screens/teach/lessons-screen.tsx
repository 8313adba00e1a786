import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { formatDay } from '../../units/format-moment.ts';

const SORTS = ['-updatedAt', 'title', '-createdAt'] as const;

export function LessonsScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [sort, setSort] = useState<(typeof SORTS)[number]>('-updatedAt');
  const lessons = usePages('listLessons', { query: { q, sort } });
  return (
    <Page title={words.teach.title} lead={words.teach.lead}>
      <div className="actions">
        <LinkButton look="primary" to="/teach/new" icon="plus">
          {words.teach.add}
        </LinkButton>
        <LinkButton to="/dose" icon="stripes">
          {words.dose.title}
        </LinkButton>
      </div>
      <div className="grid-two">
        <SearchBox label={words.teach.searchLabel} typed={typed} onType={setTyped} />
        <SelectField
          label={words.teach.sortLabel}
          value={sort}
          choices={SORTS.map((value) => ({ value, word: words.teach.sorts[value] }))}
          onChange={(event) => {
            setSort(SORTS.find((each) => each === event.target.value) ?? '-updatedAt');
          }}
        />
      </div>
      <Listing
        pages={lessons}
        row={({ id, title, createdBy, updatedAt }) => (
          <Link to={`/teach/${id}`} className="row-link">
            <span className="row-name">{title}</span>
            <span />
            <span className="muted small">{words.teach.by(createdBy?.name ?? '', formatDay(updatedAt))}</span>
          </Link>
        )}
        empty={
          <EmptyState title={words.teach.none}>
            <p>{q === undefined ? words.teach.noneHint : words.teach.noneFound}</p>
          </EmptyState>
        }
      />
    </Page>
  );
}
