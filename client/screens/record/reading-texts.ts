import { useState } from 'react';
import type { Readings } from '@domain/readings.ts';
import type { UnitSystem } from '../../units/shown-units.ts';
import type { FormLook } from './reading-form.ts';
import { QUANTITY_FIELDS, USUAL_SALTS, convertText, shownQuantities } from './shown-quantities.ts';
import type { QuantityName } from './shown-quantities.ts';

/** Fields that something is computed from while they are typed. */
type PlainField = 'relativeHumidityPercent' | 'saltsRise' | 'saltsWater';
export type LiveField = QuantityName | PlainField;

export interface ReadingTexts {
  readonly look: FormLook;
  readonly text: (name: LiveField) => string;
  readonly type: (name: LiveField, text: string) => void;
  /** What is typed already is converted. */
  readonly turnTo: (system: UnitSystem) => void;
}

const QUANTITY_NAMES = Object.keys(QUANTITY_FIELDS) as QuantityName[];

/** What stands in the fields that are computed from, and in which units they are typed. */
export function useReadingTexts(readings: Readings, shopSystem: UnitSystem): ReadingTexts {
  const [picked, setPicked] = useState<UnitSystem | null>(null);
  const [typed, setTyped] = useState<Partial<Record<LiveField, string>>>({});
  const system = picked ?? shopSystem;
  const look = { system, shown: shownQuantities(readings, system) };
  const kept = { ...keptPlain(readings), ...textsOf(look) };
  return {
    look,
    text: (name) => typed[name] ?? kept[name],
    type: (name, text) => {
      setTyped((before) => ({ ...before, [name]: text }));
    },
    turnTo: (next) => {
      if (next === system) return;
      const converted: Partial<Record<LiveField, string>> = { ...typed };
      for (const name of QUANTITY_NAMES) {
        const text = typed[name];
        // What still is as it was kept goes on to be shown from what is kept.
        if (text === look.shown[name].text) converted[name] = shownQuantities(readings, next)[name].text;
        else if (text !== undefined) converted[name] = convertText(name, text, next);
      }
      setTyped(converted);
      setPicked(next);
    },
  };
}

const textsOf = ({ shown }: FormLook): Record<QuantityName, string> => ({
  airTemperature: shown.airTemperature.text,
  surfaceTemperature: shown.surfaceTemperature.text,
  profileReadings: shown.profileReadings.text,
  saltsPatch: shown.saltsPatch.text,
});

function keptPlain({ climate, solubleSalts }: Readings): Record<PlainField, string> {
  const percent = climate === null ? '' : String(Math.round(climate.value.relativeHumidity * 1000) / 10);
  return {
    relativeHumidityPercent: percent,
    saltsRise: solubleSalts === null ? '' : String(solubleSalts.value.conductivityRiseUsPerCm),
    saltsWater: String(solubleSalts?.value.waterVolumeMl ?? USUAL_SALTS.waterVolumeMl),
  };
}
