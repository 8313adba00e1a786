import type { ReactNode } from 'react';
import { Icon } from './icon.tsx';

/** More for those who want it, folded away for those who do not. */
export function Fold({
  title,
  children,
  isOpen = false,
}: {
  title: string;
  children: ReactNode;
  isOpen?: boolean;
}): ReactNode {
  return (
    <details className="fold" open={isOpen}>
      <summary>
        <Icon name="next" />
        <span>{title}</span>
      </summary>
      <div className="fold-inside">{children}</div>
    </details>
  );
}
