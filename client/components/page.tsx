import { useLayoutEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { Icon } from './icon.tsx';

interface PageProps {
  readonly title: string;
  /** The place above this one. */
  readonly above?: { readonly to: string; readonly word: string } | undefined;
  readonly lead?: ReactNode;
  readonly isWide?: boolean;
  readonly children: ReactNode;
}

/** Frame of a screen. A new screen is announced: the document's title changes and its heading takes the focus. */
export function Page({ title, above, lead, isWide = false, children }: PageProps): ReactNode {
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    document.title = `${title} · Bareplate`;
    heading.current?.focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }, [title]);
  return (
    <div className={isWide ? 'page page-wide' : 'page'}>
      <div className="page-head">
        {above === undefined ? null : (
          <p className="page-over">
            <Link to={above.to}>
              <Icon name="back" size={18} />
              {above.word}
            </Link>
          </p>
        )}
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {lead === undefined ? null : <p className="muted">{lead}</p>}
      </div>
      {children}
    </div>
  );
}
