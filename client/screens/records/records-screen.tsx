import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { RecordSummary } from '@domain/api/records.ts';
import { RECORD_STATES } from '@domain/record.ts';
import type { RecordState } from '@domain/record.ts';
import { urlOf } from '../../api/call.ts';
import { useAnswer, usePages } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Fold } from '../../components/fold.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/record.css';
import { formatDay } from '../../units/format-moment.ts';
import { DownloadLink } from '../record/signature-section.tsx';

const SORTS = ['-createdAt', '-updatedAt', 'zoneName'] as const;

export function RecordsScreen(): ReactNode {
  const [state, setState] = useState('');
  const picked = RECORD_STATES.find((each) => each === state);
  const { typed, q, setTyped } = useSearch();
  const [sort, setSort] = useState<(typeof SORTS)[number]>('-createdAt');
  const records = usePages('listRecords', { query: { q, sort, state: picked } });
  const isNarrowed = q !== undefined || picked !== undefined;
  const states = RECORD_STATES.map((value) => ({ value, word: words.record.states[value] }));
  return (
    <Page title={words.records.title} lead={words.records.lead}>
      <div className="actions">
        <LinkButton to="/records/check" icon="search">
          {words.records.checkTitle}
        </LinkButton>
      </div>
      <SearchBox label={words.records.searchLabel} typed={typed} onType={setTyped} />
      <div className="grid-two">
        <SelectField
          label={words.records.stateLabel}
          choices={[{ value: '', word: words.records.anyState }, ...states]}
          value={state}
          onChange={(event) => {
            setState(event.target.value);
          }}
        />
        <SelectField
          label={words.records.sortLabel}
          choices={SORTS.map((value) => ({ value, word: words.records.sorts[value] }))}
          value={sort}
          onChange={(event) => {
            setSort(SORTS.find((each) => each === event.target.value) ?? '-createdAt');
          }}
        />
      </div>
      <Listing
        pages={records}
        row={(record) => <RecordRow record={record} />}
        empty={
          <EmptyState title={isNarrowed ? words.records.none : words.record.none}>
            {isNarrowed ? null : <p>{words.records.noneHint}</p>}
          </EmptyState>
        }
      />
      <div>
        <ExportsFold />
        <KeyFold />
      </div>
    </Page>
  );
}

const stateOf = (state: RecordState): string => words.record.states[state];

function RecordRow({ record }: { record: RecordSummary }): ReactNode {
  const { signedAt, signerName } = record;
  const signed = signedAt === null ? formatDay(record.createdAt) : `${signerName ?? ''}, ${formatDay(signedAt)}`;
  return (
    <Link to={`/records/${record.id}`} className="row-link">
      <span>
        <span className="row-name">{record.zoneName}</span>
        <br />
        <span className="muted small">{`${record.jobName}; ${signed}`}</span>
      </span>
      <span className={`record-state record-state-${record.state}`}>{stateOf(record.state)}</span>
    </Link>
  );
}

const EXPORTS = [
  ['exportAssessments', words.records.exportNames.assessments],
  ['exportReadings', words.records.exportNames.readings],
  ['exportRegister', words.records.exportNames.register],
] as const;

function ExportsFold(): ReactNode {
  const mayExport = useMayCall('exportAssessments');
  if (!mayExport) return null;
  return (
    <Fold title={words.records.exports}>
      <div className="stack">
        <p className="muted">{words.records.exportsHint}</p>
        {EXPORTS.map(([name, word]) => (
          <div key={name} className="row">
            {(['csv', 'jsonl'] as const).map((format) => (
              <DownloadLink
                key={format}
                href={urlOf(name, { query: { format } })}
                word={`${word}, ${words.records[format]}`}
              />
            ))}
          </div>
        ))}
      </div>
    </Fold>
  );
}

function KeyFold(): ReactNode {
  const key = useAnswer('readSealKey', {});
  return (
    <Fold title={words.records.key}>
      {key.data === undefined ? (
        <NotHereYet reading={key} />
      ) : (
        <div className="stack">
          <p className="muted">{words.records.keyHint}</p>
          <img
            className="key-code"
            src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(key.data.qrSvg)}`}
            alt={key.data.fingerprint}
          />
          <p>
            <span className="muted">{words.records.fingerprint}</span>
            <br />
            <strong className="audit-hash">{key.data.fingerprint.replace(/(.{4})(?=.)/g, '$1 ')}</strong>
          </p>
          <div>
            <DownloadLink href={urlOf('readSealKeyFile', {})} word={words.records.keyFile} />
          </div>
        </div>
      )}
    </Fold>
  );
}
