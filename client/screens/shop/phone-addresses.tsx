import type { ReactNode } from 'react';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SquareCode } from '../../components/square-code.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';

/** Addresses of this machine on its networks, to be scanned by a phone. */
export function PhoneAddresses(): ReactNode {
  const addresses = useAnswer('listAddresses', {});
  if (addresses.data === undefined) return <NotHereYet reading={addresses} />;
  const { items } = addresses.data;
  return (
    <section className="stack">
      <h2>{words.shop.phones}</h2>
      <p className="muted">{items.length === 0 ? words.shop.phonesNone : words.shop.phonesLead}</p>
      <ul className="codes">
        {items.map(({ url, qrSvg }) => (
          <li key={url} className="stack stack-tight">
            <SquareCode svg={qrSvg} alt={words.shop.phoneAlt(url)} />
            <strong>{url}</strong>
          </li>
        ))}
      </ul>
      <div>
        <Button
          icon="print"
          onClick={() => {
            window.print();
          }}
        >
          {words.shop.print}
        </Button>
      </div>
    </section>
  );
}
