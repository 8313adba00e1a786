import { Suspense, useSyncExternalStore } from 'react';
import type { ReactNode } from 'react';
import { Link, Outlet, useLocation } from 'react-router';
import { useAnswer } from '../api/use-answer.ts';
import { Icon } from '../components/icon.tsx';
import { Waiting } from '../components/waiting.tsx';
import { words } from '../i18n/words.ts';
import { mayCall, useWho } from '../session/who.ts';
import { FURTHER_PLACES, isAt, MORE, PLACES } from './places.ts';
import type { Place } from './places.ts';
import { ScreenGuard } from './screen-guard.tsx';

/** Frame around every screen of a person who is signed in. */
export function Shell(): ReactNode {
  const shop = useAnswer('readShop', {}, { staleTime: 300_000 });
  const { pathname } = useLocation();
  return (
    <div className="shell">
      <a className="skip" href="#content">
        {words.skip}
      </a>
      <header className="head">
        <Link to="/" className="head-name">
          <img src="/mark.svg" width="30" height="30" alt="" />
          {words.programName}
        </Link>
        <span className="head-shop">{shop.data?.name ?? ''}</span>
      </header>
      <OfflineLine />
      <main id="content" className="body" tabIndex={-1}>
        <ScreenGuard key={pathname}>
          <Suspense fallback={<Waiting />}>
            <Outlet />
          </Suspense>
        </ScreenGuard>
      </main>
      <Navigation pathname={pathname} />
    </div>
  );
}

function Navigation({ pathname }: { pathname: string }): ReactNode {
  const who = useWho();
  const person = who.data?.person ?? null;
  const further = FURTHER_PLACES.filter(({ needs }) => mayCall(person, needs));
  const isFurther = further.some((place) => isAt(place, pathname));
  return (
    <nav className="nav" aria-label={words.nav.label}>
      <ul>
        {PLACES.map((place) => (
          <NavigationLink
            key={place.to}
            place={place}
            isHere={isAt(place, pathname)}
            holdsHere={isFurther && place.to === MORE}
          />
        ))}
      </ul>
      <ul className="nav-further">
        {further.map((place) => (
          <NavigationLink key={place.to} place={place} isHere={isAt(place, pathname)} />
        ))}
      </ul>
    </nav>
  );
}

/** @param props.holdsHere the place that is open stands behind this one where the bar is too short for it */
function NavigationLink({
  place: { to, icon, word },
  isHere,
  holdsHere = false,
}: {
  place: Place;
  isHere: boolean;
  holdsHere?: boolean;
}): ReactNode {
  return (
    <li>
      <Link to={to} className={holdsHere ? 'nav-holds' : undefined} aria-current={isHere ? 'page' : undefined}>
        <Icon name={icon} />
        {word}
      </Link>
    </li>
  );
}

function subscribeToSignal(onChange: () => void): () => void {
  window.addEventListener('online', onChange);
  window.addEventListener('offline', onChange);
  return () => {
    window.removeEventListener('online', onChange);
    window.removeEventListener('offline', onChange);
  };
}

function OfflineLine(): ReactNode {
  const isOnline = useSyncExternalStore(subscribeToSignal, () => navigator.onLine);
  return (
    <div className="signal" role="status">
      {isOnline ? null : <p className="offline">{words.offline}</p>}
    </div>
  );
}
