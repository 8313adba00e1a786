import { describe, expect, it } from 'vitest';
import { climateNow, readReadings, saltsNow } from '../../../../client/screens/record/reading-form.ts';
import { convertText, shownQuantities } from '../../../../client/screens/record/shown-quantities.ts';
import { readingEntrySchema } from '../../../../server/domain/api/records.ts';
import { NO_READINGS, fraction } from '../../../../server/domain/index.ts';

const USUAL = { saltsWater: '15', saltsPatch: '1250' };
const form = (fields: Readonly<Record<string, string | readonly string[]>>): FormData => {
  const data = new FormData();
  for (const [name, value] of Object.entries({ ...USUAL, ...fields })) {
    for (const each of typeof value === 'string' ? [value] : value) data.append(name, each);
  }
  return data;
};

const METRIC = { system: 'millimetres', shown: shownQuantities(NO_READINGS, 'millimetres') } as const;
const US = { system: 'inches', shown: shownQuantities(NO_READINGS, 'inches') } as const;

describe('a form of readings', () => {
  it('takes a group that is left empty as not read', () => {
    expect(readReadings(form({}), METRIC)).toEqual({
      body: {
        climate: null,
        surfaceProfile: null,
        dust: null,
        solubleSalts: null,
        scrapeTest: null,
        timeSinceCleaning: null,
        instruments: [],
        remarks: [],
      },
    });
  });

  it('reads commas, percent and several readings as people write them', () => {
    const typed = readReadings(
      form({
        airTemperature: '20,5',
        surfaceTemperature: '-1.5',
        relativeHumidityPercent: '50',
        profileMethod: 'stylus',
        profileReadings: '62, 71,5; 66',
        remarks: 'First\n\n second ',
      }),
      METRIC,
    );
    expect(typed).toMatchObject({
      body: {
        climate: { airTemperatureC: 20.5, surfaceTemperatureC: -1.5, relativeHumidity: 0.5 },
        surfaceProfile: { method: 'stylus', readingsUm: [62, 71.5, 66] },
        remarks: [{ text: 'First' }, { text: 'second' }],
      },
    });
  });

  it('keeps instruments row by row, and a day that is not known as none', () => {
    const typed = readReadings(
      form({
        instrumentKind: ['thermometer', '', 'hygrometer'],
        serialNumber: ['T-1', '', 'H-2'],
        calibratedOn: ['2026-03-01', '', ''],
        usedFor: ['steel', '', 'air'],
      }),
      METRIC,
    );
    expect(typed).toMatchObject({
      body: {
        instruments: [
          { kind: 'thermometer', calibratedOn: '2026-03-01' },
          { kind: 'hygrometer', calibratedOn: null },
        ],
      },
    });
  });

  it.each([
    ['climate', { airTemperature: '20' }],
    ['climate', { airTemperature: 'warm', surfaceTemperature: '1', relativeHumidityPercent: '50' }],
    ['climate', { airTemperature: '20', surfaceTemperature: '13', relativeHumidityPercent: '0.4' }],
    ['surfaceProfile', { profileMethod: 'stylus', profileReadings: '' }],
    ['surfaceProfile', { profileMethod: 'stylus', profileReadings: '62 x' }],
    ['dust', { dustQuantity: '1' }],
    ['solubleSalts', { saltsRise: '5', saltsWater: '' }],
    ['scrapeTest', { scrapeResult: 'clean' }],
    ['timeSinceCleaning', { cleanedMinutes: '30' }],
    ['instruments', { instrumentKind: 'gauge', serialNumber: '', calibratedOn: '', usedFor: '' }],
  ] as const)('names the group that is half filled or out of its range: %s, %j', (group, fields) => {
    expect(readReadings(form(fields), METRIC)).toEqual({ wrong: group });
  });
});

describe('a form in US customary units', () => {
  const typed = form({
    airTemperature: '68',
    surfaceTemperature: '50,9',
    relativeHumidityPercent: '50',
    profileMethod: 'replica tape',
    profileReadings: '2.4, 2.8',
    saltsRise: '4.2',
    saltsPatch: '1.9375',
  });
  const body = {
    // By hand: (68 - 32) / 1.8 = 20, (50.9 - 32) / 1.8 = 10.5; 1 mil is 25.4 um, 1.9375 in2 are 1250 mm2 (1249.9975).
    climate: { airTemperatureC: 20, surfaceTemperatureC: 10.5, relativeHumidity: 0.5, uncertainty: null },
    surfaceProfile: { method: 'replica tape', readingsUm: [2.4 * 25.4, 2.8 * 25.4] },
    solubleSalts: { conductivityRiseUsPerCm: 4.2, waterVolumeMl: 15, patchAreaMm2: 1250 },
    typed: {
      climate: { airTemperatureC: '68 °F', surfaceTemperatureC: '50,9 °F' },
      surfaceProfile: { readingsUm: '2.4, 2.8 mil' },
    },
  };

  it('is converted exactly, and keeps word for word what was typed', () => {
    const read = readReadings(typed, US);
    expect(read).toMatchObject({ body });
    expect(readingEntrySchema.safeParse('body' in read ? read.body : null).success).toBe(true);
  });

  it('computes dew point and salts from what stands there, before anything is kept', () => {
    const text = (name: string): string => {
      const value = typed.get(name);
      return typeof value === 'string' ? value : '';
    };
    expect(climateNow(text, US)).toEqual(body.climate);
    expect(saltsNow(text, US)).toEqual(body.solubleSalts);
    expect(climateNow((name) => (name === 'airTemperature' ? '' : text(name)), US)).toBeNull();
    expect(saltsNow((name) => (name === 'saltsRise' ? '' : text(name)), US)).toBeNull();
  });

  it('shows what was typed again, and leaves what nobody touched as it was kept, in either units', () => {
    const by = { id: 'p', name: 'P', role: 'inspector' };
    const stamp = { source: 'entered by a person', by, at: '2026-11-24T10:00:00Z' } as const;
    const value = { ...body.climate, surfaceTemperatureC: 10.123456, relativeHumidity: fraction(0.5) };
    const climate = { ...stamp, value, typed: { airTemperatureC: '68,0 °F' } };
    const kept = { ...NO_READINGS, climate };
    for (const system of ['inches', 'millimetres'] as const) {
      const shown = shownQuantities(kept, system);
      const fields = {
        airTemperature: shown.airTemperature.text,
        surfaceTemperature: shown.surfaceTemperature.text,
        relativeHumidityPercent: '50',
      };
      expect(readReadings(form({ ...fields, saltsPatch: shown.saltsPatch.text }), { system, shown })).toMatchObject({
        body: { climate: value, typed: { climate: { airTemperatureC: '68,0 °F' } } },
      });
      expect(fields.airTemperature).toBe(system === 'inches' ? '68,0' : '20');
    }
  });

  it('turns what is typed into the other units, and leaves what is no number', () => {
    expect(convertText('airTemperature', '20.7', 'inches')).toBe('69.26');
    expect(convertText('airTemperature', '69.26', 'millimetres')).toBe('20.7');
    expect(convertText('profileReadings', '2.5 3', 'millimetres')).toBe('63.5 76.2');
    expect(convertText('profileReadings', 'fine', 'inches')).toBe('fine');
  });

  it('is refused by the server where the words come to something else than the value', () => {
    const typedWords = { typed: { climate: { airTemperatureC: '69 °F' } } };
    expect(readingEntrySchema.safeParse({ climate: body.climate, ...typedWords }).success).toBe(false);
    const noUnit = { typed: { climate: { airTemperatureC: '68' } } };
    expect(readingEntrySchema.safeParse({ climate: body.climate, ...noUnit }).success).toBe(false);
    expect(readingEntrySchema.safeParse({ climate: null, typed: body.typed }).success).toBe(false);
  });
});
