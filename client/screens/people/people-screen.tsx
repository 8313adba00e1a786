import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { Person } from '@domain/api/people.ts';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { FindAndShowRow, useFindAndShow } from '../../components/find-and-show.tsx';
import { Listing } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { useWho } from '../../session/who.ts';
import { formatMoment } from '../../units/format-moment.ts';

export function PeopleScreen(): ReactNode {
  const list = useFindAndShow();
  const people = usePages('listPeople', { query: { q: list.q, inactive: list.shown } });
  return (
    <Page title={words.people.title} lead={words.people.lead}>
      <div className="actions">
        <LinkButton look="primary" to="/people/new" icon="plus">
          {words.people.invite}
        </LinkButton>
      </div>
      <FindAndShowRow
        list={list}
        findLabel={words.people.searchLabel}
        showLabel={words.people.showLabel}
        showWords={words.people.show}
      />
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
