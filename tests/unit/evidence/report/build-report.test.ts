import { describe, expect, it } from 'vitest';
import type { InspectionRecord } from '../../../../server/domain/index.ts';
import { openRecord } from '../../../../server/evidence/open-record.ts';
import { buildReport } from '../../../../server/evidence/report/build-report.ts';
import { describeStreaks } from '../../../../server/evidence/report/describe-rounds.ts';
import { momentWords, quantityWords } from '../../../../server/evidence/report/quantity-words.ts';
import type { Report } from '../../../../server/evidence/report/report.ts';
import { goldenEvidence, goldenInspection } from '../../../support/evidence-tools.ts';

const recordOf = goldenInspection;
const reportOf = (record: InspectionRecord, units: 'metric' | 'inch' = 'metric'): Report =>
  buildReport(record, { units, seal: null, recordSha256: 'ab'.repeat(32), recordAddress: null });
const valueOf = (facts: Report['facts'], label: string): string | undefined =>
  facts.find((fact) => fact.label === label)?.value;

describe('the distance between streaks', () => {
  it('stands with its interval, unless both ends print alike', () => {
    const streaks = recordOf('stern-plate').rounds.at(-1)?.assessment.streaks;
    if (streaks === undefined || streaks.pitchMm === null) throw new Error('Expected streaks with a distance');
    const { pitchMm } = streaks;
    const noteOf = (lowMm: number, highMm: number): string | undefined =>
      describeStreaks(
        { ...streaks, pitchMm: { ...pitchMm, low: lowMm, high: highMm } },
        quantityWords('metric'),
      ).facts.find(({ label }) => label === 'Distance between streaks')?.note;
    expect(noteOf(3.1, 3.3)).toBe('3.1 mm to 3.3 mm');
    expect(noteOf(3.16, 3.22)).toBeUndefined();
  });
});

describe('the report', () => {
  it('says accepted or rejected, by whom, and with which reason', () => {
    expect(reportOf(recordOf('rudder-stock')).verdict).toEqual({
      word: 'Accepted',
      mark: 'tick',
      sentence: 'by Ida Wren, inspector, 24 Nov 2026, 11:02 UTC',
      reason: null,
    });
    expect(reportOf(recordOf('stern-plate')).verdict).toMatchObject({
      word: 'Rejected',
      mark: 'cross',
      reason: expect.stringContaining('slower') as string,
    });
  });

  it('of a draft says that nobody signed it', () => {
    const report = reportOf({ ...recordOf('rudder-stock'), decision: null });
    expect(report.verdict.word).toBe('Not signed');
    expect(report.notices).toContain('Draft: not signed, not sealed.');
  });

  it('marks the grade that was asked for, and says when it is not among those compared', () => {
    const record = recordOf('rudder-stock');
    expect(reportOf(record).asked).toMatchObject({ grade: 'Industrial', decision: 'meets', isAsked: true });
    const other = reportOf({ ...record, asked: { ...record.asked, standard: 'ISO/DIS 8504-6', grade: 'any' } });
    expect(other.asked).toBeNull();
    expect(other.summary.join(' ')).toContain('not among those');
  });

  it('computes dew point, margin and salts from what was entered, and marks only what was entered', () => {
    const { readings } = reportOf(recordOf('rudder-stock'));
    // Magnus, WMO constants, 14.5 C and 71 %: 9.3 C; 4.2 uS/cm with 15 ml on 1250 mm2: 25 mg/m2.
    expect(valueOf(readings, 'Dew point')).toBe('9.3 °C');
    expect(valueOf(readings, 'Steel above dew point')).toBe('6.5 °C ± 0.9 °C; the 3 °C rule is met');
    expect(valueOf(readings, 'Soluble salts')).toContain('25 mg/m² mixed salts');
    const marked = readings.filter(({ isEntered }) => isEntered === true).map(({ label }) => label);
    expect(marked).toContain('Steel temperature');
    expect(marked).not.toContain('Dew point');
  });

  it('states what was typed in other units with the very reading', () => {
    const record = recordOf('rudder-stock');
    const { climate } = record.readings;
    if (climate === null) throw new Error('Expected the climate of the rudder stock');
    const typed = { airTemperatureC: '58.1 °F', surfaceTemperatureC: '60.4 °F' };
    const { readings } = reportOf({ ...record, readings: { ...record.readings, climate: { ...climate, typed } } });
    const noteOf = (label: string): string | undefined => readings.find((fact) => fact.label === label)?.note;
    expect(noteOf('Air temperature')).toMatch(/; typed “58\.1 °F”$/);
    expect(noteOf('Relative humidity')).not.toContain('typed');
  });

  it('lists every reading that nobody entered', () => {
    const { readings } = reportOf(recordOf('stern-plate'));
    const missing = readings.filter(({ value }) => value === 'not entered').map(({ label }) => label);
    expect(missing).toEqual(['Surface profile', 'Dust, tape test', 'Soluble salts', 'Time since cleaning']);
  });

  it('always warns of the laser and the fume, and of what the record shows besides', () => {
    const stern = reportOf(recordOf('stern-plate')).cautions.join(' ');
    expect(stern).toContain('too near the dew point');
    expect(stern).toContain('Some of the residue may be paint');
    for (const name of ['rudder-stock', 'stern-plate'] as const) {
      const cautions = reportOf(recordOf(name)).cautions.join(' ');
      expect(cautions).toContain('Class 4 laser');
      expect(cautions).toContain('Fume and hot work');
    }
    const record = recordOf('rudder-stock');
    record.rounds[0].assessment.after.appearance.heatTintFraction =
      0.04 as (typeof record.rounds)[0]['assessment']['after']['appearance']['heatTintFraction'];
    if (record.readings.timeSinceCleaning !== null) record.readings.timeSinceCleaning.value.minutes = 300;
    if (record.readings.scrapeTest !== null) record.readings.scrapeTest.value.result = 'material came off';
    const cautions = reportOf(record).cautions.join(' ');
    expect(cautions).toContain('Heat tint on 4.0 %');
    expect(cautions).toContain('look for flash rust again');
    expect(cautions).toContain('brought material off');
  });

  it('says what it cannot show', () => {
    const limits = reportOf(recordOf('stern-plate')).limits.join(' ');
    expect(limits).toContain('cannot be read from a photo');
    expect(limits).toContain('design values');
    expect(limits).not.toContain('No scrape test');
    const record = recordOf('stern-plate');
    record.readings.scrapeTest = null;
    expect(reportOf(record).limits.join(' ')).toContain('No scrape test');
  });

  it('names every file that the record stands on', () => {
    expect(reportOf(recordOf('stern-plate')).files.map(({ path }) => path)).toEqual([
      'photos/round-1-before.jpg',
      'class-maps/round-1-before.png',
      'photos/round-1-after.jpg',
      'class-maps/round-1-after.png',
      'card/values.json',
    ]);
  });

  it('states the time for the area that was judged', () => {
    // By hand: 0.6 min on 253 cm2 are 23.7 min/m2, and 10.76 square feet are a square metre.
    const record = recordOf('rudder-stock');
    expect(valueOf(reportOf(record).facts, 'Time')).toMatch(/^0\.6 min laser on, 23\.\d min\/m²$/);
    expect(valueOf(reportOf(record, 'inch').facts, 'Time')).toMatch(/^0\.6 min laser on, 2\.2\d? min\/ft²$/);
    record.rounds[0].laserOnMinutes = null;
    expect(valueOf(reportOf(record).facts, 'Time')).toBe('not noted');
  });
});

describe('numbers in words', () => {
  const [metric, inch] = [quantityWords('metric'), quantityWords('inch')];

  it('convert by the exact inch of 25.4 mm', () => {
    expect([inch.length(76), inch.speed(50.8), inch.profile(50.8), inch.area(92903.04)]).toEqual([
      '2.99 in',
      '2.00 in/s',
      '2.0 mil',
      '1.00 ft²',
    ]);
    expect([inch.temperature(20), inch.temperatureStep(3), inch.temperature(-40)]).toEqual([
      '68.0 °F',
      '5.4 °F',
      '-40.0 °F',
    ]);
  });

  it('keep the digits that matter', () => {
    expect([
      metric.length(3.21),
      metric.length(76),
      metric.area(38),
      metric.area(25_300),
      metric.area(2_530_000),
    ]).toEqual(['3.2 mm', '76 mm', '38 mm²', '253 cm²', '2.530 m²']);
  });

  it('tell moments as they stand in the record', () => {
    expect(momentWords('2026-01-05T07:03:59Z')).toBe('5 Jan 2026, 07:03 UTC');
  });
});

describe('what people added to the measurement', () => {
  const golden = goldenEvidence('stern-plate', 2);
  const opened = openRecord(JSON.parse(golden.sealed.text));
  if (!opened.ok) throw new Error(opened.fault.code);
  const record = opened.value;

  it('states shares after corrections beside those as measured, and who took a correction back', () => {
    const report = reportOf(record);
    // 0.115 residue and 0.035 stain stand in the fixture.
    const after = report.corrections.find(({ label }) => label === 'Round 1, after, corrected');
    expect(after?.value).toBe('11.5 % residue, 3.5 % stain');
    expect(report.corrections.filter(({ note }) => note?.includes('taken back by Ida Wren'))).toHaveLength(1);
    expect(report.summary.join(' ')).toContain('With the corrections that people painted it is 11.5 %');
    expect(reportOf(recordOf('stern-plate')).summary.join(' ')).not.toContain('corrections');
  });

  it('states what was decided anew beside what was measured, and by whom', () => {
    const report = reportOf(goldenInspection('stern-plate', 3));
    expect(report.asked).toMatchObject({ grade: 'Industrial', decision: 'cannot tell' });
    expect(report.askedCorrected).toMatchObject({ grade: 'Industrial', decision: 'meets' });
    expect(report.corrected?.sentence).toContain('by Ida Wren (24 Nov 2026, 10:56 UTC)');
    expect(report.corrected?.picture?.photo.classMap?.path).toBe('class-maps/round-1-after-corrected.png');
    expect(report.corrected?.grades).toHaveLength(report.grades.length);
    expect(report.summary.join(' ')).toContain('As corrected by hand it meets it');
    expect(report.files.map(({ path }) => path)).toContain('class-maps/round-1-after-corrected.png');
  });

  it('of a record that an earlier version corrected says the shares, and that nothing was decided anew', () => {
    const { corrected, askedCorrected } = reportOf(record);
    expect(askedCorrected).toBeNull();
    expect(corrected).toMatchObject({ picture: null, grades: [], facts: [] });
  });

  it('keeps what was noted with a round among the remarks', () => {
    const [round] = record.rounds;
    const noted = reportOf({ ...record, rounds: [{ ...round, note: 'Hose left lying.' }] });
    expect(noted.remarks.at(-1)).toMatchObject({ label: 'Round 1', value: 'Hose left lying.', isEntered: true });
  });
});
