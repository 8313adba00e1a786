import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { faultSentence, readSettingsFile } from '../../server/domain/index.ts';
import type { SettingsFile } from '../../server/domain/index.ts';

const dial = fc.double({ min: 1e-3, max: 1e6, noNaN: true });
const good = fc.record({
  powerW: dial,
  scanWidthMm: dial,
  scanFrequencyHz: dial,
  travelSpeedMmPerS: dial,
  passes: fc.integer({ min: 1, max: 1000 }),
});
const NAMES = ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS', 'passes'] as const;
const UNITLESS = {
  powerW: 'power',
  scanWidthMm: 'scanWidth',
  scanFrequencyHz: 'scanFrequency',
  travelSpeedMmPerS: 'travelSpeed',
};

const settingsOf = (json: unknown): SettingsFile['settings'] | string => {
  const outcome = readSettingsFile(json);
  return outcome.ok ? outcome.value.settings : faultSentence(outcome.fault);
};

describe('settings files', () => {
  it('are read bare or beside the machine alike', () => {
    fc.assert(
      fc.property(good, (settings) => {
        expect(settingsOf(settings)).toEqual(settings);
        expect(settingsOf({ settings, surface: 'tight mill scale' })).toEqual(settings);
        expect(settingsOf({ ...settings, surface: 'tight mill scale' })).toEqual(settings);
      }),
      { seed: 111, numRuns: 100 },
    );
  });

  it('with one number spoilt are refused by that number’s name', () => {
    const bad = fc.constantFrom<unknown[]>(0, -1, NaN, Infinity, -Infinity, null, '1500', '', true, [], {}, undefined);
    fc.assert(
      fc.property(good, fc.constantFrom(...NAMES), bad, (settings, name, value) => {
        const answer = settingsOf({ ...settings, [name]: value });
        expect(answer).toContain(`"${name}"`);
        expect(answer).not.toMatch(/\[object|undefined/);
      }),
      { seed: 112, numRuns: 300 },
    );
  });

  it('with a number whose unit is missing say so', () => {
    fc.assert(
      fc.property(good, fc.constantFrom(...Object.entries(UNITLESS)), (settings, [name, unitless]) => {
        const { [name as 'powerW']: value, ...rest } = settings;
        expect(settingsOf({ ...rest, [unitless]: value })).toContain(`"${unitless}" has no unit in its name`);
      }),
      { seed: 113, numRuns: 60 },
    );
  });

  it('of any JSON are an outcome with a sentence, never an exception', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (json) => {
        const answer = settingsOf(json);
        if (typeof answer === 'string') expect(answer).toMatch(/^The settings cannot be used: .+\.$/s);
      }),
      { seed: 114, numRuns: 500 },
    );
  });
});
