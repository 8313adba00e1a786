import type { ReactNode } from 'react';
import { useNavigate } from 'react-router';
import type { Settings } from '@domain/settings.ts';
import { Button } from '../../components/button.tsx';
import type { SettingsState } from '../check/settings-screen.tsx';

/** Opens the next round with these settings already dialled in. */
export function StartNextButton({
  zoneId,
  settings,
  look = 'quiet',
  children,
}: {
  zoneId: string;
  settings: Settings;
  look?: 'primary' | 'quiet';
  children: ReactNode;
}): ReactNode {
  const navigate = useNavigate();
  return (
    <Button
      look={look}
      isWide={look === 'primary'}
      onClick={() => {
        const state: SettingsState = { settings };
        void navigate(`/zones/${zoneId}/check`, { state });
      }}
    >
      {children}
    </Button>
  );
}
