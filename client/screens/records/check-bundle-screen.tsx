import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useMutation } from '@tanstack/react-query';
import { MOST_BUNDLE_UPLOAD_MIB } from '@domain/api/records.ts';
import type { Verification } from '@domain/verification.ts';
import { call } from '../../api/call.ts';
import { uploadPhoto } from '../../api/upload-photo.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/record.css';
import { formatMoment } from '../../units/format-moment.ts';
import { textOf } from '../sign-in/door.tsx';

interface Asked {
  readonly file: File;
  readonly knownFingerprint: string;
}

/** Any bundle, from here or from another shop: whether it is as it was signed, and if not, what was changed. */
export function CheckBundleScreen(): ReactNode {
  const [sentShare, setSentShare] = useState(0);
  const check = useMutation({
    mutationFn: async ({ file, knownFingerprint }: Asked): Promise<Verification> => {
      if (file.size > MOST_BUNDLE_UPLOAD_MIB * 1024 * 1024) {
        throw new Error(words.records.tooLarge(MOST_BUNDLE_UPLOAD_MIB));
      }
      const uploadId = await uploadPhoto(file, {
        onShare: setSentShare,
        signal: new AbortController().signal,
        mostMib: MOST_BUNDLE_UPLOAD_MIB,
      });
      return call('checkBundle', { body: { uploadId, knownFingerprint } });
    },
  });
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    const file = entries.get('bundle');
    if (file instanceof File && file.size > 0) {
      check.mutate({ file, knownFingerprint: textOf(entries, 'fingerprint') });
    }
  };
  return (
    <Page
      title={words.records.checkTitle}
      above={{ to: '/records', word: words.records.title }}
      lead={words.records.checkLead}
    >
      <form className="stack" onSubmit={submit}>
        <TextField label={words.records.bundleFile} name="bundle" type="file" accept=".zip,application/zip" required />
        <TextField
          label={words.records.fingerprint}
          hint={words.records.fingerprintHint}
          name="fingerprint"
          autoComplete="off"
          maxLength={80}
        />
        {check.isPending ? <progress max={1} value={sentShare} aria-label={words.waiting} /> : null}
        <Button type="submit" look="primary" isWide isBusy={check.isPending}>
          {words.records.checkGo}
        </Button>
        {check.error === null ? null : <Notice kind="fault">{check.error.message}</Notice>}
      </form>
      <div role="status">{check.data === undefined ? null : <Finding finding={check.data} />}</div>
    </Page>
  );
}

function Finding({ finding }: { finding: Verification }): ReactNode {
  const { holds, problems, files, record, key, remarks } = finding;
  return (
    <section className="plate stack">
      <h2>{holds ? words.records.holds : words.records.holdsNot}</h2>
      {holds ? <p>{words.records.holdsHint(files.length)}</p> : null}
      {record === null ? null : (
        <p>
          <strong>{record.id}</strong>
          <br />
          {`${record.verdict}: ${record.signerName}, ${record.signerRole}, ${formatMoment(record.signedAt)}`}
        </p>
      )}
      {key === null ? null : <p className="small audit-hash">{`${words.records.fingerprint}: ${key.fingerprint}`}</p>}
      {problems.map(({ path, message }) => (
        <Notice key={`${path} ${message}`} kind="caution">
          <strong>{path}</strong> {message}
        </Notice>
      ))}
      {remarks.map((remark) => (
        <p key={remark} className="small muted">
          {remark}
        </p>
      ))}
    </section>
  );
}
