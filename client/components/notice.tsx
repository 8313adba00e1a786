import type { ReactNode } from 'react';
import { Icon } from './icon.tsx';

/** Something to know before going on. A fault is said at once, a caution when its turn comes. */
export function Notice({ kind, children }: { kind: 'fault' | 'caution' | 'note'; children: ReactNode }): ReactNode {
  return (
    <div className={`notice notice-${kind}`} role={kind === 'fault' ? 'alert' : undefined}>
      <Icon name={kind === 'note' ? 'tick' : 'caution'} />
      <div>{children}</div>
    </div>
  );
}
