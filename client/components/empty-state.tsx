import type { ReactNode } from 'react';

/** Says what will stand here and how it comes about. */
export function EmptyState({ title, children }: { title: string; children: ReactNode }): ReactNode {
  return (
    <div className="empty">
      <p className="empty-title">{title}</p>
      <div className="stack">{children}</div>
    </div>
  );
}
