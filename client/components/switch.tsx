import type { ReactNode } from 'react';

/** On or off; the whole line is the target. */
export function Switch({
  isOn,
  onTurn,
  children,
}: {
  isOn: boolean;
  onTurn: () => void;
  children: ReactNode;
}): ReactNode {
  return (
    <label className="switch">
      <input type="checkbox" role="switch" checked={isOn} onChange={onTurn} />
      <span className="switch-word">{children}</span>
    </label>
  );
}
