import { useState } from 'react';
import type { ReactNode } from 'react';
import { useNavigate } from 'react-router';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SelectField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';
import type { SettingsState } from '../check/settings-screen.tsx';

/** Takes a setting over to a zone: its dials open as the trial found them. */
export function AdoptSetting({ settings }: { settings: Settings }): ReactNode {
  const zones = useAnswer('listZones', { query: { limit: 100 } });
  const [picked, setPicked] = useState<string | null>(null);
  const navigate = useNavigate();
  if (zones.data === undefined) return null;
  const zoneId = picked ?? zones.data.items.at(0)?.id;
  if (zoneId === undefined) return <p className="muted">{words.trials.adoptNone}</p>;
  return (
    <div className="stack">
      <SelectField
        label={words.trials.adoptFor}
        value={zoneId}
        choices={zones.data.items.map(({ id, name, jobName }) => ({ value: id, word: `${name}, ${jobName}` }))}
        onChange={(event) => {
          setPicked(event.target.value);
        }}
      />
      <Button
        look="primary"
        onClick={() => {
          void navigate(`/zones/${zoneId}/check`, { state: { settings } satisfies SettingsState });
        }}
      >
        {words.trials.adoptGo}
      </Button>
    </div>
  );
}
