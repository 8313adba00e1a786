import { MOST_PAGE_ITEMS } from '../domain/api/paging.ts';
import type { Page } from '../domain/api/paging.ts';
import type { Readings } from '../domain/index.ts';
import { dewPointMargin } from '../domain/dew-point-margin.ts';
import { meanReading } from '../evidence/readings/mean-reading.ts';
import { saltDensityMgPerM2 } from '../domain/salt-density.ts';
import { decisionFor } from './decision-for.ts';
import type { Ledger } from './ledger.ts';
import type { TableRow } from './table-lines.ts';

/** A table to hand out: its columns, and its rows as they are read. */
export interface ExportTable {
  readonly names: readonly string[];
  rows(): AsyncIterable<TableRow>;
}

async function* everyItem<Item>(page: (cursor: string | undefined) => Promise<Page<Item>>): AsyncGenerator<Item> {
  let cursor: string | undefined;
  do {
    const { items, nextCursor } = await page(cursor);
    yield* items;
    cursor = nextCursor ?? undefined;
  } while (cursor !== undefined);
}

const SHARES = ['bare', 'stain', 'rust', 'scale', 'coating'] as const;
const BOUNDS = ['value', 'low', 'high'] as const;
const BOUND_NAME = { value: 'Fraction', low: 'FractionLow', high: 'FractionHigh' } as const;

export const assessmentsTable = ({ assessments }: Pick<Ledger, 'assessments'>): ExportTable => ({
  names: [
    ...['assessmentId', 'job', 'zone', 'round', 'queuedAt', 'finishedAt', 'powerW', 'scanWidthMm', 'scanFrequencyHz'],
    ...['travelSpeedMmPerS', 'passes', 'areaMm2', 'residueBeforeFraction'],
    ...['residue', ...SHARES].flatMap((name) => BOUNDS.map((bound) => `${name}${BOUND_NAME[bound]}`)),
    ...['intervalCoverage', 'unmeasuredFraction', 'worstSquareResidueFraction', 'streakKind', 'streakPitchMm'],
    ...['targetGrade', 'decision', 'verdict', 'minutesPerSquareMetre', 'correctedResidueFraction'],
    ...['correctedWorstSquareResidueFraction', 'correctedDecision'],
    ...['colourErrorMedianDeltaE00', 'mmPerPixel', 'programVersion', 'segmenter'],
  ],
  async *rows() {
    const list = (cursor: string | undefined): ReturnType<typeof assessments.list> =>
      assessments.list({ state: 'done', sort: 'queuedAt', limit: MOST_PAGE_ITEMS, cursor });
    for await (const { id } of everyItem(list)) {
      const assessment = await assessments.find(id);
      const result = assessment?.result ?? null;
      if (assessment === null || result === null) continue;
      const { basis, corrected } = assessment;
      const { after, photos, zone, streaks } = result;
      const shares = { residue: after.residue, ...after.fractions };
      yield {
        assessmentId: id,
        job: assessment.jobName,
        zone: assessment.zoneName,
        round: assessment.roundNumber,
        queuedAt: assessment.queuedAt,
        finishedAt: assessment.finishedAt,
        ...basis.settings,
        areaMm2: zone.areaMm2,
        residueBeforeFraction: result.before?.residue.value ?? null,
        ...Object.fromEntries(
          Object.entries(shares).flatMap(([name, share]) =>
            BOUNDS.map((bound) => [`${name}${BOUND_NAME[bound]}`, share[bound]] as const),
          ),
        ),
        intervalCoverage: after.residue.coverage,
        unmeasuredFraction: after.unmeasuredFraction,
        worstSquareResidueFraction: after.worstUnitArea?.residueFraction ?? null,
        streakKind: streaks.kind,
        streakPitchMm: streaks.pitchMm?.value ?? null,
        targetGrade: assessment.targetGrade,
        decision: assessment.decision,
        verdict: assessment.verdict,
        minutesPerSquareMetre: assessment.minutesPerSquareMetre,
        correctedResidueFraction: corrected.after?.residue ?? null,
        correctedWorstSquareResidueFraction: corrected.after?.decided?.worstUnitArea?.residueFraction ?? null,
        correctedDecision: decisionFor(assessment.targetGrade, corrected.after?.decided?.grades ?? []),
        colourErrorMedianDeltaE00: photos.after.card.colourErrorDeltaE00?.median ?? null,
        mmPerPixel: photos.after.card.mmPerPixel,
        programVersion: assessment.programVersion,
        segmenter: result.segmenter ?? null,
      };
    }
  },
});

const READING_NAMES = [
  ...['recordId', 'state', 'job', 'zone', 'signedAt', 'signedBy', 'scrapeTest', 'scrapeTestWhere', 'profileMethod'],
  ...[
    'profileWord',
    'profileMeanUm',
    'profileStandardDeviationUm',
    'profileReadings',
    'dustQuantityRating',
    'dustSizeClass',
  ],
  ...['conductivityRiseUsPerCm', 'waterVolumeMl', 'patchAreaMm2', 'saltDensityMgPerM2', 'airTemperatureC'],
  ...['surfaceTemperatureC', 'relativeHumidityFraction', 'dewPointC', 'dewPointMarginC', 'dewPointRule'],
  ...['minutesSinceCleaning', 'flashRust'],
  ...['scrapeTest', 'profile', 'dust', 'salts', 'climate', 'timeSinceCleaning'].flatMap((name) => [
    `${name}EnteredBy`,
    `${name}EnteredAt`,
  ]),
];

export const readingsTable = ({ records }: Pick<Ledger, 'records'>): ExportTable => ({
  names: READING_NAMES,
  async *rows() {
    const list = (cursor: string | undefined): ReturnType<typeof records.list> =>
      records.list({ sort: 'createdAt', limit: MOST_PAGE_ITEMS, cursor });
    for await (const { id } of everyItem(list)) {
      const record = await records.find(id);
      if (record === null) continue;
      yield {
        recordId: id,
        state: record.state,
        job: record.jobName,
        zone: record.zoneName,
        signedAt: record.signedAt,
        signedBy: record.signerName,
        ...readingCells(record.readings),
      };
    }
  },
});

function readingCells(readings: Readings): TableRow {
  const { scrapeTest, surfaceProfile, dust, solubleSalts, climate, timeSinceCleaning } = readings;
  const profile = surfaceProfile?.value ?? null;
  const mean = profile === null || profile.method === 'comparator' ? null : meanReading(profile.readingsUm);
  const margin = climate === null ? null : dewPointMargin(climate.value);
  const entries = { scrapeTest, profile: surfaceProfile, dust, salts: solubleSalts, climate, timeSinceCleaning };
  return {
    scrapeTest: scrapeTest?.value.result ?? null,
    scrapeTestWhere: scrapeTest?.value.where ?? null,
    profileMethod: profile?.method ?? null,
    profileWord: profile?.method === 'comparator' ? profile.word : null,
    profileMeanUm: mean?.mean ?? null,
    profileStandardDeviationUm: mean?.standardDeviation ?? null,
    profileReadings: mean?.count ?? null,
    dustQuantityRating: dust?.value.quantityRating ?? null,
    dustSizeClass: dust?.value.sizeClass ?? null,
    conductivityRiseUsPerCm: solubleSalts?.value.conductivityRiseUsPerCm ?? null,
    waterVolumeMl: solubleSalts?.value.waterVolumeMl ?? null,
    patchAreaMm2: solubleSalts?.value.patchAreaMm2 ?? null,
    saltDensityMgPerM2: solubleSalts === null ? null : saltDensityMgPerM2(solubleSalts.value),
    airTemperatureC: climate?.value.airTemperatureC ?? null,
    surfaceTemperatureC: climate?.value.surfaceTemperatureC ?? null,
    relativeHumidityFraction: climate?.value.relativeHumidity ?? null,
    dewPointC: margin?.dewPointC ?? null,
    dewPointMarginC: margin?.marginC ?? null,
    dewPointRule: margin?.decision ?? null,
    minutesSinceCleaning: timeSinceCleaning?.value.minutes ?? null,
    flashRust: timeSinceCleaning?.value.flashRust ?? null,
    ...Object.fromEntries(
      Object.entries(entries).flatMap(([name, entry]) => [
        [`${name}EnteredBy`, entry?.by.name ?? null],
        [`${name}EnteredAt`, entry?.at ?? null],
      ]),
    ),
  };
}
