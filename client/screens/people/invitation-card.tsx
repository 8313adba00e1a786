import { useState } from 'react';
import type { ReactNode } from 'react';
import type { ResponseOf } from '@domain/api/endpoints.ts';
import { Button } from '../../components/button.tsx';
import { SquareCode } from '../../components/square-code.tsx';
import { TextField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';
import { formatMoment } from '../../units/format-moment.ts';

/** A one-time link, shown once: to be scanned on the spot, or copied and sent. */
export function InvitationCard({
  name,
  invitation: { link, qrSvg, expiresAt },
}: {
  name: string;
  invitation: ResponseOf<'renewInvitation'>;
}): ReactNode {
  const [isCopied, setCopied] = useState(false);
  // Pages without TLS have no clipboard; the link can be marked and copied by hand there.
  const canCopy = 'clipboard' in navigator;
  return (
    <section className="plate stack" aria-label={words.people.ready(name)}>
      <h2>{words.people.ready(name)}</h2>
      <p>{words.people.readyLead(formatMoment(expiresAt))}</p>
      <SquareCode svg={qrSvg} alt={words.people.qrAlt} />
      <TextField
        label={words.people.link}
        value={link}
        readOnly
        onFocus={(event) => {
          event.target.select();
        }}
      />
      {canCopy ? (
        <div>
          <Button
            onClick={() => {
              void navigator.clipboard.writeText(link).then(() => {
                setCopied(true);
              });
            }}
          >
            {words.people.copy}
          </Button>
        </div>
      ) : null}
      <p role="status" className="muted">
        {isCopied ? words.people.copied : ''}
      </p>
    </section>
  );
}
