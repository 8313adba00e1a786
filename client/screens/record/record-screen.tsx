import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link, useNavigate, useParams } from 'react-router';
import type { ZoneRecord } from '@domain/api/records.ts';
import { newId } from '../../api/new-id.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/record.css';
import { ReadingsForm } from './readings-form.tsx';
import { ReadingsShown } from './readings-shown.tsx';
import { AskedPlate, RecordEvidence } from './record-evidence.tsx';
import { SignForm } from './sign-form.tsx';
import { HandOut, SignatureSection } from './signature-section.tsx';

/** The newest record of a zone, or the way to begin one. */
export function ZoneRecordScreen(): ReactNode {
  const { zoneId = '' } = useParams();
  const records = useAnswer('listRecords', { query: { zoneId, limit: 1 } });
  const zone = useAnswer('readZone', { params: { zoneId } });
  if (records.data === undefined) return <NotHereYet reading={records} />;
  if (zone.data === undefined) return <NotHereYet reading={zone} />;
  const newest = records.data.items.at(0);
  if (newest !== undefined) return <OneRecord recordId={newest.id} />;
  const { name } = zone.data;
  return (
    <Page title={words.record.title(name)} above={{ to: `/zones/${zoneId}`, word: name }}>
      <EmptyState title={words.record.none}>
        <p>{words.record.noneHint}</p>
      </EmptyState>
      <BeginButton zoneId={zoneId} />
    </Page>
  );
}

function BeginButton({ zoneId }: { zoneId: string }): ReactNode {
  const begin = useChange('startRecord');
  const mayBegin = useMayCall('startRecord');
  const [id] = useState(newId);
  if (!mayBegin) return null;
  return (
    <div className="actions">
      <Button
        look="primary"
        isWide
        isBusy={begin.isPending}
        onClick={() => {
          begin.mutate({ params: { zoneId }, body: { id } });
        }}
      >
        {words.record.begin}
      </Button>
      {begin.error === null ? null : <Notice kind="fault">{begin.error.message}</Notice>}
    </div>
  );
}

export function RecordScreen(): ReactNode {
  const { recordId = '' } = useParams();
  return <OneRecord recordId={recordId} />;
}

/** One page: what was asked, the evidence, what people read, and the decision. */
function OneRecord({ recordId }: { recordId: string }): ReactNode {
  const [isUnkept, setUnkept] = useState(false);
  const reading = useAnswer('readRecord', { params: { recordId } });
  if (reading.data === undefined) return <NotHereYet reading={reading} />;
  const record = reading.data;
  const { content, state } = record;
  return (
    <Page
      title={words.record.title(record.zoneName)}
      above={{ to: `/zones/${record.zoneId}`, word: record.zoneName }}
      lead={<StateLine record={record} />}
      isWide
    >
      {content === null ? null : <AskedPlate content={content} />}
      {content === null ? null : <RecordEvidence record={record} content={content} />}
      <Readings record={record} onUnkept={setUnkept} />
      <SignatureSection record={record} />
      {state === 'draft' ? <DraftActions record={record} isUnkept={isUnkept} /> : null}
      {state === 'ready' ? <ReadyActions record={record} /> : null}
      <HandOut record={record} />
    </Page>
  );
}

function StateLine({ record }: { record: ZoneRecord }): ReactNode {
  const { state, supersededById, supersedesId } = record;
  return (
    <>
      <strong className={`record-state record-state-${state}`}>{words.record.states[state]}</strong>{' '}
      {words.record.stateHints[state]}{' '}
      {supersededById === null ? null : <Link to={`/records/${supersededById}`}>{words.record.newer}</Link>}{' '}
      {supersedesId === null ? null : <Link to={`/records/${supersedesId}`}>{words.record.older}</Link>}
    </>
  );
}

function Readings({ record, onUnkept }: { record: ZoneRecord; onUnkept: (isUnkept: boolean) => void }): ReactNode {
  const mayEnter = useMayCall('enterReadings');
  return (
    <section className="stack">
      <h2>{words.record.readings}</h2>
      <p className="muted">{words.record.readingsLead}</p>
      {record.state === 'draft' && mayEnter ? (
        <ReadingsForm record={record} onUnkept={onUnkept} />
      ) : (
        <ReadingsShown record={record} />
      )}
    </section>
  );
}

function DraftActions({ record, isUnkept }: { record: ZoneRecord; isUnkept: boolean }): ReactNode {
  const navigate = useNavigate();
  const ready = useChange('markRecordReady');
  const remove = useChange('removeDraftRecord');
  const [mayReady, mayRemove] = [useMayCall('markRecordReady'), useMayCall('removeDraftRecord')];
  const params = { recordId: record.id };
  const error = ready.error ?? remove.error;
  return (
    <section className="stack">
      {record.obstacles.length === 0 ? null : (
        <Notice kind="caution">
          <strong>{words.record.notReady}.</strong> {record.obstacles.join(' ')}
        </Notice>
      )}
      {isUnkept ? <Notice kind="caution">{words.record.unkept}</Notice> : null}
      {error === null ? null : <Notice kind="fault">{error.message}</Notice>}
      <div className="actions">
        {mayReady && !isUnkept && record.obstacles.length === 0 ? (
          <Button
            look="primary"
            isWide
            isBusy={ready.isPending}
            onClick={() => {
              ready.mutate({ params });
            }}
          >
            {words.record.markReady}
          </Button>
        ) : null}
        {mayRemove ? (
          <Button
            look="plain"
            isBusy={remove.isPending}
            onClick={() => {
              remove.mutate({ params }, { onSuccess: () => void navigate(`/zones/${record.zoneId}`) });
            }}
          >
            {words.record.remove}
          </Button>
        ) : null}
      </div>
    </section>
  );
}

function ReadyActions({ record }: { record: ZoneRecord }): ReactNode {
  const withdraw = useChange('withdrawRecord');
  const [maySign, mayWithdraw] = [useMayCall('signRecord'), useMayCall('withdrawRecord')];
  return (
    <section className="stack">
      {maySign ? <SignForm record={record} /> : null}
      {withdraw.error === null ? null : <Notice kind="fault">{withdraw.error.message}</Notice>}
      {mayWithdraw ? (
        <div>
          <Button
            isBusy={withdraw.isPending}
            onClick={() => {
              withdraw.mutate({ params: { recordId: record.id } });
            }}
          >
            {words.record.withdraw}
          </Button>
        </div>
      ) : null}
    </section>
  );
}
