import type { ButtonHTMLAttributes, ReactNode } from 'react';
import { Link } from 'react-router';
import { Icon } from './icon.tsx';
import type { IconName } from './icon.tsx';

type Look = 'primary' | 'quiet' | 'plain';

interface Face {
  readonly look?: Look;
  readonly icon?: IconName;
  readonly children: ReactNode;
  readonly isWide?: boolean;
}

const classOf = ({ look = 'quiet', isWide = false }: Pick<Face, 'look' | 'isWide'>): string =>
  `button button-${look}${isWide ? ' button-wide' : ''}`;

const Inside = ({ icon, children }: Pick<Face, 'icon' | 'children'>): ReactNode => (
  <>
    {icon === undefined ? null : <Icon name={icon} />}
    <span>{children}</span>
  </>
);

/** One primary button a screen: the next thing to do. */
export function Button({
  look = 'quiet',
  icon,
  isWide = false,
  isBusy = false,
  children,
  ...rest
}: Face & { readonly isBusy?: boolean } & Omit<ButtonHTMLAttributes<HTMLButtonElement>, 'className'>): ReactNode {
  return (
    <button
      type="button"
      {...rest}
      className={classOf({ look, isWide })}
      aria-busy={isBusy}
      onClick={isBusy ? undefined : rest.onClick}
    >
      {isBusy ? <span className="spinner" aria-hidden="true" /> : null}
      {icon === undefined || isBusy ? <span>{children}</span> : <Inside icon={icon}>{children}</Inside>}
    </button>
  );
}

export function LinkButton({ to, look = 'quiet', icon, isWide = false, children }: Face & { to: string }): ReactNode {
  return (
    <Link to={to} className={classOf({ look, isWide })}>
      {icon === undefined ? <span>{children}</span> : <Inside icon={icon}>{children}</Inside>}
    </Link>
  );
}

/** Opens or downloads a file that the server makes: the browser goes there itself. */
export function FileLink({
  href,
  isDownload = false,
  look = 'quiet',
  icon,
  children,
}: Face & { readonly href: string; readonly isDownload?: boolean }): ReactNode {
  return (
    <a href={href} download={isDownload ? '' : undefined} className={classOf({ look })}>
      {icon === undefined ? <span>{children}</span> : <Inside icon={icon}>{children}</Inside>}
    </a>
  );
}
