import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';

export function TrialsScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const trials = usePages('listTrials', { query: { q } });
  return (
    <Page title={words.trials.title} lead={words.trials.lead}>
      <SearchBox label={words.trials.search} typed={typed} onType={setTyped} />
      <Listing
        pages={trials}
        row={({ id, name, isRead, createdAt }) => (
          <Link to={`/trials/${id}`} className="row-link">
            <span className="row-name">{name}</span>
            <span className="tag">{isRead ? words.trials.read : words.trials.notRead}</span>
            <span className="muted small">{new Date(createdAt).toLocaleDateString('en-GB')}</span>
          </Link>
        )}
        empty={
          q === undefined ? (
            <EmptyState title={words.trials.none}>
              <p>{words.trials.noneHint}</p>
            </EmptyState>
          ) : (
            <p className="muted">{words.trials.noneFound}</p>
          )
        }
      />
      <LinkButton to="/trials/new" look="primary" icon="plus" isWide>
        {words.trials.add}
      </LinkButton>
    </Page>
  );
}
