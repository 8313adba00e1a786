import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { Icon } from '../../components/icon.tsx';
import { Page } from '../../components/page.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';
import type { UnitSystem } from '../../units/shown-units.ts';
import { mayCall, useMayCall, useWho } from '../../session/who.ts';
import { FURTHER_PLACES } from '../../shell/places.ts';
import { chosenTheme, chooseTheme, THEMES } from '../../shell/theme.ts';
import { PasswordFold, SessionsFold } from './own-account.tsx';

export function MoreScreen(): ReactNode {
  const who = useWho();
  const signOut = useChange('signOut');
  const person = who.data?.person ?? null;
  return (
    <Page title={words.me.title}>
      <FurtherPlaces />
      <LookChoice />
      <UnitsChoice />
      <section className="stack">
        <h2>{words.me.you}</h2>
        {person === null ? null : (
          <p>
            <strong>{person.name}</strong>, {words.me.role[person.role]}
          </p>
        )}
        <div>
          <PasswordFold />
          <SessionsFold />
        </div>
        <div>
          <Button
            isBusy={signOut.isPending}
            onClick={() => {
              signOut.mutate({});
            }}
          >
            {words.me.signOut}
          </Button>
        </div>
      </section>
      <p className="small muted">{words.me.limits}</p>
      <p className="small muted">{words.me.version(who.data?.programVersion ?? '')}</p>
    </Page>
  );
}

function FurtherPlaces(): ReactNode {
  const who = useWho();
  const person = who.data?.person ?? null;
  return (
    <nav aria-label={words.me.places}>
      <ul className="rows">
        {FURTHER_PLACES.filter(({ needs }) => mayCall(person, needs)).map(({ to, word, hint, icon }) => (
          <li key={to}>
            <Link to={to} className="row-link">
              <span>
                <span className="row-name">{word}</span>
                <br />
                <span className="muted small">{hint}</span>
              </span>
              <Icon name={icon} />
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function LookChoice(): ReactNode {
  const [theme, setTheme] = useState(chosenTheme);
  return (
    <PickOne
      label={words.me.look}
      options={THEMES.map((value) => ({ value, word: words.me.looks[value] }))}
      value={theme}
      onPick={(picked) => {
        chooseTheme(picked);
        setTheme(picked);
      }}
    />
  );
}

function UnitsChoice(): ReactNode {
  const mayChange = useMayCall('changeShop');
  const shop = useAnswer('readShop', {});
  const change = useChange('changeShop');
  // What was just picked shows at once, before the server has said yes.
  const [picked, setPicked] = useState<UnitSystem | null>(null);
  if (!mayChange || shop.data === undefined) return null;
  return (
    <PickOne
      label={words.me.units}
      options={[
        { value: 'millimetres', word: words.me.unitsWord.millimetres },
        { value: 'inches', word: words.me.unitsWord.inches },
      ]}
      value={picked ?? shop.data.units}
      onPick={(units) => {
        setPicked(units);
        change.mutate(
          { body: { units } },
          {
            onSettled: () => {
              setPicked(null);
            },
          },
        );
      }}
    />
  );
}
