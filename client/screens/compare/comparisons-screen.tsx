import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { formatMoment } from '../../units/format-moment.ts';

/** Comparisons that were kept. */
export function ComparisonsScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const comparisons = usePages('listComparisons', { query: { q } });
  return (
    <Page title={words.compare.title} lead={words.compare.lead}>
      <div className="actions">
        <LinkButton look="primary" to="/compare/new" icon="plus">
          {words.compare.add}
        </LinkButton>
      </div>
      <SearchBox label={words.compare.searchLabel} typed={typed} onType={setTyped} />
      <Listing
        pages={comparisons}
        row={({ id, title, progress, createdAt, createdBy }) => (
          <Link to={`/compare/${id}`} className="row-link">
            <span className="row-name">{title}</span>
            {words.compare.state[progress.state] === '' ? (
              <span />
            ) : (
              <span className="tag">{words.compare.state[progress.state]}</span>
            )}
            <span className="muted small">
              {[createdBy?.name, formatMoment(createdAt)].filter((part) => part !== undefined).join(' · ')}
            </span>
          </Link>
        )}
        empty={
          <EmptyState title={words.compare.none}>
            <p>{q === undefined ? words.compare.noneHint : words.compare.noneFound}</p>
          </EmptyState>
        }
      />
    </Page>
  );
}
