import type { ReactNode } from 'react';
import { useAnswer, usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Fold } from '../../components/fold.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { ZoneRow } from '../zones/zone-row.tsx';
import { ScanLabel } from './scan-label.tsx';

const WATCH_EVERY_MS = 10_000;

/** The first screen: which zone is being cleaned? */
export function CheckScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const zones = usePages('listZones', { query: { sort: '-lastActivityAt', q, limit: 12 } });
  return (
    <Page title={words.check.title} lead={words.check.lead}>
      <BusyLine />
      <div>
        <Fold title={words.check.scan}>
          <ScanLabel />
        </Fold>
      </div>
      <SearchBox label={words.check.find} typed={typed} onType={setTyped} />
      <section className="stack" aria-label={q === undefined ? words.check.recent : words.check.found(q)}>
        <h2>{q === undefined ? words.check.recent : words.check.found(q)}</h2>
        <Listing
          pages={zones}
          row={(zone) => <ZoneRow zone={zone} to={`/zones/${zone.id}/check`} />}
          empty={<NoZone isSearching={q !== undefined} />}
        />
      </section>
    </Page>
  );
}

/** How much the program has to do just now; nothing when it rests. */
function BusyLine(): ReactNode {
  const overview = useAnswer('readOverview', {}, { refetchInterval: WATCH_EVERY_MS });
  if (overview.data === undefined) return null;
  const { running, waiting } = overview.data;
  return (
    <div role="status">
      {running + waiting === 0 ? null : (
        <p className="row muted">
          <span className="spinner" aria-hidden="true" />
          {words.check.waitingLine(running, waiting)}
        </p>
      )}
    </div>
  );
}

function NoZone({ isSearching }: { isSearching: boolean }): ReactNode {
  const mayAddJob = useMayCall('addJob');
  return (
    <EmptyState title={words.check.none}>
      <p>{isSearching ? words.check.noneFound : words.check.noneHint}</p>
      {isSearching ? null : (
        <div className="row">
          <LinkButton to="/jobs">{words.check.openJobs}</LinkButton>
          {mayAddJob ? (
            <LinkButton to="/jobs/new" icon="plus">
              {words.check.addJob}
            </LinkButton>
          ) : null}
        </div>
      )}
    </EmptyState>
  );
}
