import type { ReactNode } from 'react';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { Settings } from '@domain/settings.ts';
import { settingsSchema } from '@domain/settings.ts';
import { Stepper } from '../../components/stepper.tsx';
import { words } from '../../i18n/words.ts';
import { readNumber } from '@domain/read-number.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from './shown-setting.ts';
import type { SettingKey } from './shown-setting.ts';

interface DialsProps {
  readonly settings: Settings;
  readonly machine: ShopMachine;
  /** What was set in the round before; a difference is pointed out. */
  readonly last: Settings | null;
  readonly onChange: (settings: Settings) => void;
}

/** One big stepper for each dial of the machine, stepping as the machine steps. */
export function SettingsDials(props: DialsProps): ReactNode {
  return (
    <div className="dials">
      {SETTING_KEYS.map((key) => (
        <SettingDial key={key} dialOf={key} {...props} />
      ))}
    </div>
  );
}

function SettingDial({
  dialOf: key,
  settings,
  machine,
  last,
  onChange,
}: DialsProps & { dialOf: SettingKey }): ReactNode {
  const units = useUnits();
  const shown = shownSetting(key, settings[key], units);
  const isChanged = last !== null && last[key] !== settings[key];
  const dial =
    key === 'passes'
      ? { min: 1, max: machine.machine.maxPasses, step: 1 }
      : { ...machine.machine[key], step: machine.dialSteps[key] };
  const read = (text: string): number | null => {
    const typed = readNumber(text);
    if (typed === null || typed === undefined) return null;
    if (key === 'passes') return Math.round(typed);
    return shown.isLength ? units.millimetresOf(typed) : typed;
  };
  return (
    <Stepper
      label={words.settings[key]}
      unit={shown.unit}
      value={settings[key]}
      shown={shown.number}
      dial={dial}
      read={read}
      note={isChanged ? words.round.last(shownSetting(key, last[key], units).text) : undefined}
      onChange={(value) => {
        onChange(settingsSchema.parse({ ...settings, [key]: value }));
      }}
    />
  );
}
