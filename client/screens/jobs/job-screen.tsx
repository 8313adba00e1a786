import type { ReactNode } from 'react';
import { useNavigate, useParams } from 'react-router';
import type { Job } from '@domain/api/jobs.ts';
import { useAnswer, useChange, usePages } from '../../api/use-answer.ts';
import { Button, LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Listing } from '../../components/listing.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { ZoneRow } from '../zones/zone-row.tsx';

export function JobScreen(): ReactNode {
  const { jobId = '' } = useParams();
  const job = useAnswer('readJob', { params: { jobId } });
  const zones = usePages('listZones', { query: { jobId, sort: 'name' } });
  const mayAddZone = useMayCall('addZone');
  if (job.data === undefined) return <NotHereYet reading={job} />;
  return (
    <Page title={job.data.name} above={{ to: '/jobs', word: words.jobs.title }} lead={leadOf(job.data)}>
      {job.data.isInvented ? <Notice kind="note">{words.jobs.inventedHint}</Notice> : null}
      {job.data.note === '' || job.data.isInvented ? null : <p>{job.data.note}</p>}
      <section className="stack">
        <h2>{words.jobs.zonesTitle}</h2>
        <Listing
          pages={zones}
          row={(zone) => <ZoneRow zone={zone} to={`/zones/${zone.id}`} isJobUnsaid />}
          empty={
            <EmptyState title={words.jobs.noZonesTitle}>
              <p>{words.jobs.noZonesHint}</p>
            </EmptyState>
          }
        />
      </section>
      <div className="actions">
        {mayAddZone ? (
          <LinkButton to={`/jobs/${jobId}/new-zone`} icon="plus">
            {words.jobs.addZone}
          </LinkButton>
        ) : null}
        <PutAwayButton job={job.data} />
        <RemoveButton job={job.data} />
      </div>
    </Page>
  );
}

const leadOf = ({ customer, zoneCount, zonesMeetingTarget }: Job): string =>
  [customer, zoneCount === 0 ? '' : words.jobs.progress(zonesMeetingTarget, zoneCount)]
    .filter((part) => part !== '')
    .join(' · ');

function PutAwayButton({ job }: { job: Job }): ReactNode {
  const change = useChange('changeJob');
  const mayChange = useMayCall('changeJob');
  if (!mayChange) return null;
  return (
    <Button
      isBusy={change.isPending}
      onClick={() => {
        change.mutate({ params: { jobId: job.id }, body: { isPutAway: !job.isPutAway } });
      }}
    >
      {job.isPutAway ? words.jobs.takeOut : words.jobs.putAwayGo}
    </Button>
  );
}

function RemoveButton({ job }: { job: Job }): ReactNode {
  const remove = useChange('removeJob');
  const navigate = useNavigate();
  const mayRemove = useMayCall('removeJob');
  if (!mayRemove) return null;
  return (
    <RemoveKey
      word={words.jobs.remove}
      title={words.jobs.removeTitle(job.name)}
      hint={words.jobs.removeHint}
      go={words.jobs.removeGo}
      removal={remove}
      onRemove={() => {
        remove.mutate({ params: { jobId: job.id } }, { onSuccess: () => void navigate('/jobs') });
      }}
    />
  );
}
