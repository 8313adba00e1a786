import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { Person } from '@domain/api/people.ts';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { PutAwayChoice } from '../../components/put-away-choice.tsx';
import type { PutAway } from '../../components/put-away-choice.tsx';
import { words } from '../../i18n/words.ts';
import { useWho } from '../../session/who.ts';
import { formatMoment } from '../../units/format-moment.ts';

export function PeopleScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [inactive, setInactive] = useState<PutAway>('no');
  const people = usePages('listPeople', { query: { q, inactive } });
  return (
    <Page title={words.people.title} lead={words.people.lead}>
      <div className="actions">
        <LinkButton look="primary" to="/people/new" icon="plus">
          {words.people.invite}
        </LinkButton>
      </div>
      <div className="grid-two">
        <SearchBox label={words.people.searchLabel} typed={typed} onType={setTyped} />
        <PutAwayChoice
          label={words.people.showLabel}
          words={words.people.show}
          value={inactive}
          onChoose={setInactive}
        />
      </div>
      <Listing
        pages={people}
        row={(person) => <PersonRow person={person} />}
        empty={
          <EmptyState title={words.people.none}>
            <p>{words.people.noneHint}</p>
          </EmptyState>
        }
      />
    </Page>
  );
}

function PersonRow({ person }: { person: Person }): ReactNode {
  const who = useWho();
  const tag = person.id === who.data?.person?.id ? words.people.you : person.isActive ? null : words.people.off;
  return (
    <Link to={`/people/${person.id}`} className="row-link">
      <span className="row-name">{person.name}</span>
      {tag === null ? <span /> : <span className="tag">{tag}</span>}
      <span className="muted small">
        {words.me.role[person.role]} · {presenceOf(person)}
      </span>
    </Link>
  );
}

export function presenceOf({ hasPassword, lastSeenAt }: Person): string {
  if (!hasPassword) return words.people.notYetIn;
  return lastSeenAt === null ? words.people.neverSeen : words.people.lastSeen(formatMoment(lastSeenAt));
}
