import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { Job } from '@domain/api/jobs.ts';
import { usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';

const SORTS = ['-lastActivityAt', 'name', '-createdAt'] as const;
const PUT_AWAY = ['no', 'yes', 'all'] as const;

export function JobsScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [sort, setSort] = useState<(typeof SORTS)[number]>('-lastActivityAt');
  const [putAway, setPutAway] = useState<(typeof PUT_AWAY)[number]>('no');
  const mayAdd = useMayCall('addJob');
  const jobs = usePages('listJobs', { query: { sort, q, putAway } });
  const isSearching = q !== undefined || putAway !== 'no';
  return (
    <Page title={words.jobs.title} lead={words.jobs.lead}>
      <div className="grid-two">
        <SearchBox label={words.jobs.searchLabel} typed={typed} onType={setTyped} />
        <div className="grid-two">
          <SelectField
            label={words.jobs.putAwayLabel}
            value={putAway}
            choices={PUT_AWAY.map((value) => ({ value, word: words.jobs.putAway[value] }))}
            onChange={(event) => {
              setPutAway(PUT_AWAY.find((each) => each === event.target.value) ?? 'no');
            }}
          />
          <SelectField
            label={words.jobs.sortLabel}
            value={sort}
            choices={SORTS.map((value) => ({ value, word: words.jobs.sorts[value] }))}
            onChange={(event) => {
              setSort(SORTS.find((each) => each === event.target.value) ?? '-lastActivityAt');
            }}
          />
        </div>
      </div>
      <Listing pages={jobs} row={(job) => <JobRow job={job} />} empty={<NoJobs isSearching={isSearching} />} />
      {mayAdd ? (
        <div className="actions">
          <LinkButton to="/jobs/new" icon="plus">
            {words.jobs.add}
          </LinkButton>
        </div>
      ) : null}
    </Page>
  );
}

function NoJobs({ isSearching }: { isSearching: boolean }): ReactNode {
  return (
    <EmptyState title={words.jobs.none}>
      <p>{isSearching ? words.jobs.noneFound : words.jobs.noneHint}</p>
    </EmptyState>
  );
}

function JobRow({ job }: { job: Job }): ReactNode {
  return (
    <Link to={`/jobs/${job.id}`} className="row-link">
      <span className="row-name">{job.name}</span>
      {job.isInvented ? <span className="tag">{words.invented}</span> : <span />}
      <span className="muted small">
        {job.zoneCount === 0 ? words.jobs.noZones : words.jobs.progress(job.zonesMeetingTarget, job.zoneCount)}
        {job.customer === '' ? '' : ` · ${job.customer}`}
      </span>
    </Link>
  );
}
