import type { Settings } from '@domain/settings.ts';
import { words } from '../../i18n/words.ts';
import { formatNumber } from '../../units/shown-units.ts';
import type { ShownUnits } from '../../units/shown-units.ts';

export const SETTING_KEYS = ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS', 'passes'] as const;
export type SettingKey = (typeof SETTING_KEYS)[number];

export interface ShownSetting {
  readonly number: string;
  readonly unit: string;
  readonly text: string;
  /** Shown in the shop's unit of length. */
  readonly isLength: boolean;
}

/** A setting with its unit, lengths and speeds in the shop's units. */
export function shownSetting(key: SettingKey, value: Settings[SettingKey], units: ShownUnits): ShownSetting {
  const isLength = key === 'scanWidthMm' || key === 'travelSpeedMmPerS';
  const decimals = isLength && units.system === 'inches' ? 2 : 1;
  const number = formatNumber(isLength ? units.lengthOf(value) : value, decimals);
  const unit = unitOf(key, value, units);
  return { number, unit, isLength, text: `${number} ${unit}` };
}

function unitOf(key: SettingKey, value: number, units: ShownUnits): string {
  switch (key) {
    case 'powerW':
      return 'W';
    case 'scanWidthMm':
      return units.lengthUnit;
    case 'scanFrequencyHz':
      return 'Hz';
    case 'travelSpeedMmPerS':
      return units.speedUnit;
    case 'passes':
      return words.settings.passesUnit(value);
  }
}
