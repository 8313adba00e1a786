import { useState } from 'react';
import type { ReactNode } from 'react';
import { useNavigate } from 'react-router';
import type { ZoneRecord } from '@domain/api/records.ts';
import { urlOf } from '../../api/call.ts';
import { newId } from '../../api/new-id.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Fold } from '../../components/fold.tsx';
import { Icon } from '../../components/icon.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import { formatMoment } from '../../units/format-moment.ts';

const spaced = (digits: string): string => digits.replace(/(.{4})(?=.)/g, '$1 ');

/** Who prepared and signed it, and by which marks it is known again. */
export function SignatureSection({ record }: { record: ZoneRecord }): ReactNode {
  const { prepared, decision, seal } = record;
  if (prepared === null) return null;
  const reason = decision?.reason ?? null;
  return (
    <section className="stack">
      <h2>{words.record.signed}</h2>
      <dl className="facts record-readings">
        <Fact
          term={words.record.prepared}
          fact={prepared.by.name}
          note={`${prepared.by.role}, ${formatMoment(prepared.at)}`}
        />
        {decision === null ? null : (
          <Fact
            term={words.record.signedBy}
            fact={`${decision.signer.name}: ${words.record.states[decision.verdict]}`}
            note={`${decision.signer.role}, ${formatMoment(decision.signedAt)}`}
          />
        )}
        {reason === null ? null : <Fact term={words.record.reason} fact={reason} />}
      </dl>
      {seal === null ? null : (
        <dl className="facts record-marks">
          <Fact term={words.record.hash} fact={spaced(seal.recordSha256)} />
          <Fact term={words.record.key} fact={spaced(seal.keyFingerprint)} />
        </dl>
      )}
    </section>
  );
}

function Fact({ term, fact, note }: { term: string; fact: string; note?: string }): ReactNode {
  return (
    <div>
      <dt>{term}</dt>
      <dd>{fact}</dd>
      {note === undefined ? null : <dd className="small muted">{note}</dd>}
    </div>
  );
}

export function DownloadLink({
  href,
  word,
  isPrimary = false,
}: {
  href: string;
  word: string;
  isPrimary?: boolean;
}): ReactNode {
  return (
    <a className={`button ${isPrimary ? 'button-primary' : 'button-quiet'}`} href={href} download>
      <Icon name="download" />
      <span>{word}</span>
    </a>
  );
}

/** Report, bundle and what comes after a signature, for whoever may hand evidence out. */
export function HandOut({ record }: { record: ZoneRecord }): ReactNode {
  const mayHandOut = useMayCall('readRecordReport');
  const params = { recordId: record.id };
  if (!mayHandOut || record.content === null) return null;
  const isSigned = record.seal !== null;
  return (
    <section className="stack">
      <div className="actions">
        {isSigned ? (
          <DownloadLink href={urlOf('readRecordBundle', { params })} word={words.record.bundle} isPrimary />
        ) : null}
        <DownloadLink
          href={urlOf('readRecordReport', { params })}
          word={isSigned ? words.record.report : words.record.draftReport}
        />
        {isSigned && record.state !== 'superseded' ? <SupersedeButton record={record} /> : null}
      </div>
      {isSigned ? <p className="small muted">{words.record.bundleHint}</p> : null}
      {isSigned ? <StampFold record={record} /> : null}
    </section>
  );
}

function SupersedeButton({ record }: { record: ZoneRecord }): ReactNode {
  const navigate = useNavigate();
  const begin = useChange('supersedeRecord');
  const [id] = useState(newId);
  if (record.supersededById !== null) return null;
  return (
    <>
      <Button
        isBusy={begin.isPending}
        onClick={() => {
          begin.mutate(
            { params: { recordId: record.id }, body: { id } },
            { onSuccess: (draft) => void navigate(`/records/${draft.id}`) },
          );
        }}
      >
        {words.record.supersede}
      </Button>
      {begin.error === null ? null : <Notice kind="fault">{begin.error.message}</Notice>}
    </>
  );
}

function StampFold({ record }: { record: ZoneRecord }): ReactNode {
  const add = useChange('addTimeStamp');
  const params = { recordId: record.id };
  const bring = async (file: File): Promise<void> => {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const replyBase64 = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
    add.mutate({ params, body: { replyBase64 } });
  };
  return (
    <Fold title={words.record.stamp}>
      {record.hasTimeStamp ? (
        <Notice kind="note">{words.record.stamped}</Notice>
      ) : (
        <div className="stack">
          <p>{words.record.stampHint}</p>
          <div>
            <DownloadLink href={urlOf('readTimeStampRequest', { params })} word={words.record.stampRequest} />
          </div>
          <TextField
            label={words.record.stampReply}
            type="file"
            onChange={(event) => {
              const file = event.target.files?.item(0) ?? null;
              if (file !== null) void bring(file);
            }}
          />
          {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
        </div>
      )}
    </Fold>
  );
}
