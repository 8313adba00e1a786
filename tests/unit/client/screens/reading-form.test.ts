import { describe, expect, it } from 'vitest';
import { readReadings } from '../../../../client/screens/record/reading-form.ts';

const USUAL = { saltsWater: '15', saltsPatch: '1250' };
const form = (fields: Readonly<Record<string, string | readonly string[]>>): FormData => {
  const data = new FormData();
  for (const [name, value] of Object.entries({ ...USUAL, ...fields })) {
    for (const each of typeof value === 'string' ? [value] : value) data.append(name, each);
  }
  return data;
};

describe('a form of readings', () => {
  it('takes a group that is left empty as not read', () => {
    expect(readReadings(form({}))).toEqual({
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
        airTemperatureC: '20,5',
        surfaceTemperatureC: '-1.5',
        relativeHumidityPercent: '50',
        profileMethod: 'stylus',
        profileReadings: '62, 71,5; 66',
        remarks: 'First\n\n second ',
      }),
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
    ['climate', { airTemperatureC: '20' }],
    ['climate', { airTemperatureC: 'warm', surfaceTemperatureC: '1', relativeHumidityPercent: '50' }],
    ['climate', { airTemperatureC: '20', surfaceTemperatureC: '13', relativeHumidityPercent: '0.4' }],
    ['surfaceProfile', { profileMethod: 'stylus', profileReadings: '' }],
    ['surfaceProfile', { profileMethod: 'stylus', profileReadings: '62 x' }],
    ['dust', { dustQuantity: '1' }],
    ['solubleSalts', { saltsRise: '5', saltsWater: '' }],
    ['scrapeTest', { scrapeResult: 'clean' }],
    ['timeSinceCleaning', { cleanedMinutes: '30' }],
    ['instruments', { instrumentKind: 'gauge', serialNumber: '', calibratedOn: '', usedFor: '' }],
  ] as const)('names the group that is half filled or out of its range: %s, %j', (group, fields) => {
    expect(readReadings(form(fields))).toEqual({ wrong: group });
  });
});
