import { describe, expect, it } from 'vitest';
import { NO_READINGS, fraction } from '../../../server/domain/index.ts';
import { enterReadings } from '../../../server/services/enter-readings.ts';

const FINCH = { id: 'finch', name: 'Tom Finch', role: 'operator' };
const WREN = { id: 'wren', name: 'Ida Wren', role: 'inspector' };
const [EARLY, LATE] = ['2026-05-01T08:00:00Z', '2026-05-01T09:00:00Z'];
const DUST = { quantityRating: 1, sizeClass: 2 };
const GAUGE = { kind: 'thermometer', serialNumber: 'T-1', calibratedOn: null, usedFor: 'steel' };

describe('entering readings', () => {
  const first = enterReadings(NO_READINGS, { dust: DUST, instruments: [GAUGE] }, FINCH, EARLY);

  it('marks each value as entered, by whom and when', () => {
    expect(first.dust).toEqual({ source: 'entered by a person', by: FINCH, at: EARLY, value: DUST });
    expect(first.climate).toBeNull();
  });

  it('keeps who entered a value that another person leaves as it is', () => {
    const second = enterReadings(
      first,
      { dust: { ...DUST }, instruments: [GAUGE, { ...GAUGE, serialNumber: 'T-2' }] },
      WREN,
      LATE,
    );
    expect(second.dust).toBe(first.dust);
    expect(second.instruments.map(({ by }) => by.name)).toEqual(['Tom Finch', 'Ida Wren']);
  });

  it('makes a changed value the later person’s, leaves out what is not named, and takes back what is null', () => {
    const changed = enterReadings(first, { dust: { ...DUST, sizeClass: 3 } }, WREN, LATE);
    expect(changed.dust).toMatchObject({ by: WREN, at: LATE, value: { sizeClass: 3 } });
    expect(changed.instruments).toEqual(first.instruments);
    expect(enterReadings(changed, { dust: null }, WREN, LATE).dust).toBeNull();
  });

  it('keeps what was typed in other units beside the value, and with whom it stays while the value does', () => {
    const climate = {
      airTemperatureC: 20,
      surfaceTemperatureC: 15,
      relativeHumidity: fraction(0.5),
      uncertainty: null,
    };
    const words = { climate: { airTemperatureC: '68 °F', surfaceTemperatureC: '59 °F' } };
    const typed = enterReadings(NO_READINGS, { climate, typed: words }, FINCH, EARLY);
    expect(typed.climate).toMatchObject({ value: climate, typed: words.climate, by: FINCH });
    expect(enterReadings(typed, { climate }, WREN, LATE).climate).toBe(typed.climate);
    const plain = enterReadings(typed, { climate: { ...climate, airTemperatureC: 21 } }, WREN, LATE);
    expect(plain.climate).not.toHaveProperty('typed');
  });
});
