import { useState } from 'react';
import type { ReactNode } from 'react';
import { AUDIT_ACTS } from '@domain/audit.ts';
import type { ResponseOf } from '@domain/api/endpoints.ts';
import { useAnswer, usePages } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/record.css';
import { formatMoment } from '../../units/format-moment.ts';

type AuditRow = ResponseOf<'listAuditLog'>['items'][number];

/** Who did what, newest first, and whether the chain of hashes holds. */
export function AuditScreen(): ReactNode {
  const [act, setAct] = useState('');
  const picked = AUDIT_ACTS.find((each) => each === act);
  const { typed, q, setTyped } = useSearch();
  const rows = usePages('listAuditLog', { query: { q, act: picked } });
  const acts = AUDIT_ACTS.map((value) => ({ value, word: value }));
  return (
    <Page title={words.audit.title} lead={words.audit.lead} isWide>
      <ChainCheck />
      <div className="grid-two">
        <SearchBox label={words.audit.searchLabel} typed={typed} onType={setTyped} />
        <SelectField
          label={words.audit.actLabel}
          choices={[{ value: '', word: words.audit.anyAct }, ...acts]}
          value={act}
          onChange={(event) => {
            setAct(event.target.value);
          }}
        />
      </div>
      <Listing
        pages={rows}
        row={(row) => <Row row={row} />}
        empty={<EmptyState title={words.audit.none}>{null}</EmptyState>}
      />
    </Page>
  );
}

function ChainCheck(): ReactNode {
  const [isAsked, setAsked] = useState(false);
  const check = useAnswer('checkAuditLog', isAsked ? {} : null);
  return (
    <div className="stack">
      <div>
        <Button
          icon="check"
          isBusy={check.isFetching}
          onClick={() => {
            setAsked(true);
            if (isAsked) void check.refetch();
          }}
        >
          {words.audit.check}
        </Button>
      </div>
      <div role="status">
        {check.data?.holds === true ? <Notice kind="note">{words.audit.holds(check.data.rows)}</Notice> : null}
        {check.data?.flaws.map(({ sequence, detail }) => (
          <Notice key={sequence} kind="caution">
            {words.audit.flaw(sequence, detail)}
          </Notice>
        ))}
      </div>
      {check.error === null ? null : <Notice kind="fault">{check.error.message}</Notice>}
    </div>
  );
}

/** What the row tells of, by name where it still has one. */
function subjectWords({ subject, about }: AuditRow): string {
  if (about === null) return subject;
  const kind = subject.slice(0, subject.indexOf(':'));
  const round = about.round === null ? [] : [words.audit.round(about.round)];
  return `${kind}: ${[...about.names, ...round].join(' · ')}`;
}

function Row({ row }: { row: AuditRow }): ReactNode {
  return (
    <div className="audit-row">
      <span className="muted small">{formatMoment(row.at)}</span>
      <span>{row.by === null ? words.audit.nobody : row.by.name}</span>
      <span className="audit-hash">
        <strong>{row.act}</strong> <span title={row.subject}>{subjectWords(row)}</span>
      </span>
      <span className="muted small">
        {words.audit.row(row.sequence)} <span title={row.hash}>{row.hash.slice(0, 12)}</span>
      </span>
    </div>
  );
}
