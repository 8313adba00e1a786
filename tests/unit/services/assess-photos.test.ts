import { beforeAll, describe, expect, it } from 'vitest';
import { failure, machineSchema, settingsSchema, success, surfacePoint } from '../../../server/domain/index.ts';
import type { FaultCode, Outcome, Zone } from '../../../server/domain/index.ts';
import type { PairReading } from '../../../server/measure/assess-pair.ts';
import { segmentByColour } from '../../../server/measure/segmentation/segment-by-colour.ts';
import { assessPhotos } from '../../../server/services/assess-photos.ts';
import type { AssessTools, AssessmentRequest, AssessmentStage } from '../../../server/services/assess-photos.ts';
import { RUST, STEEL, platePhoto } from '../../support/plate-photo.ts';
import { NOWHERE, ShelfOfPhotos, fileOf } from '../../support/shelf-of-photos.ts';

const shelf = new ShelfOfPhotos();
const { tools } = shelf;
const [BEFORE, AFTER] = [1, 2];

beforeAll(async () => {
  shelf.put(BEFORE, await platePhoto({ plate: () => RUST, seed: 2, tilt: 0.1, exposure: 0.6 }));
  shelf.put(AFTER, await platePhoto({ plate: (x) => (x > 232 ? RUST : STEEL), seed: 3 }));
});

const zone: Zone = {
  space: 'surface',
  polygon: [surfacePoint(162, 5), surfacePoint(242, 5), surfacePoint(242, 85), surfacePoint(162, 85)],
};
const settings = settingsSchema.parse({
  powerW: 1500,
  scanWidthMm: 100,
  scanFrequencyHz: 50,
  travelSpeedMmPerS: 20,
  passes: 2,
});
const asked: AssessmentRequest = {
  after: fileOf(AFTER),
  before: null,
  zone,
  zoneBefore: zone,
  cardValues: null,
  settings: null,
  target: null,
};
const codeOf = (outcome: Outcome<unknown>): FaultCode | 'done' => (outcome.ok ? 'done' : outcome.fault.code);

async function reading(request: Partial<AssessmentRequest>): Promise<PairReading> {
  const outcome = await assessPhotos({ ...asked, ...request }, tools);
  if (!outcome.ok) throw new Error(outcome.fault.code);
  return outcome.value;
}
const warningsOf = ({ assessment }: PairReading): string[] => assessment.warnings.map(({ code }) => code);

describe('assessing photos', () => {
  it('measures the same zone of both, in other light and from elsewhere', async () => {
    const stages: AssessmentStage[] = [];
    const { assessment, before, after } = await reading({ before: fileOf(BEFORE), onStage: (s) => stages.push(s) });
    // A strip of 10 of 80 mm is still rusted.
    expect(Math.abs(assessment.after.residue.value - 0.125)).toBeLessThan(0.015);
    expect(assessment.before?.residue.value).toBeGreaterThan(0.97);
    expect(Math.abs((assessment.removed?.value ?? NaN) - 0.875)).toBeLessThan(0.02);
    expect([before?.photo.sha256, after.photo.sha256]).toEqual(['1'.padStart(64, '0'), '2'.padStart(64, '0')]);
    expect(assessment.equivalentRustedArea?.d610Grade).toBe(0);
    expect(stages[0]).toBe('decode');
    expect(stages.at(-1)).toBe('advise');
  });

  it('advises nothing without settings, and says so', async () => {
    const answer = await reading({});
    expect(answer.assessment.advice).toBeNull();
    expect(warningsOf(answer)).toContain('no-settings');
  });

  it('advises with settings, and says what it had to assume', async () => {
    const answer = await reading({ settings: { settings } });
    expect(answer.assessment.advice?.suggestions.length).toBeGreaterThan(0);
    expect(warningsOf(answer)).toEqual(expect.arrayContaining(['target-assumed', 'machine-assumed', 'before-assumed']));
  });

  it('assumes nothing that was told', async () => {
    const machine = machineSchema.parse({
      powerW: { min: 300, max: 2000 },
      scanWidthMm: { min: 20, max: 300 },
      scanFrequencyHz: { min: 10, max: 200 },
      travelSpeedMmPerS: { min: 2, max: 100 },
      strokesPerCycle: 2,
      spotDiameterMm: 2,
      maxPasses: 10,
    });
    const answer = await reading({ before: fileOf(BEFORE), settings: { settings, machine }, target: 'Sa 2 1/2' });
    expect(warningsOf(answer).filter((code) => code.endsWith('-assumed'))).toEqual([]);
    for (const { settings: next } of answer.assessment.advice?.suggestions ?? []) {
      expect(next.powerW).toBeLessThanOrEqual(2000);
      expect(next.scanFrequencyHz).toBeGreaterThanOrEqual(10);
    }
  });

  it('hands on why a photo, a target, card values or the segmenter cannot be used', async () => {
    expect(codeOf(await assessPhotos({ ...asked, after: fileOf(NOWHERE) }, tools))).toBe('photo-truncated');
    expect(codeOf(await assessPhotos({ ...asked, before: fileOf(NOWHERE) }, tools))).toBe('photo-truncated');
    expect(codeOf(await assessPhotos({ ...asked, before: fileOf(AFTER) }, tools))).toBe('photos-identical');
    expect(codeOf(await assessPhotos({ ...asked, target: 'shiny' }, tools))).toBe('target-unknown');
    expect(codeOf(await assessPhotos({ ...asked, cardValues: 'prose' }, tools))).toBe('card-values-malformed');
    const mute: AssessTools = {
      ...tools,
      segmenter: { segment: () => Promise.resolve(failure({ code: 'model-missing', model: 'none' })) },
    };
    expect(codeOf(await assessPhotos(asked, mute))).toBe('model-missing');
  });

  it('refuses a zone of which nothing can be measured', async () => {
    const dark: AssessTools = {
      ...tools,
      segmenter: {
        segment: (view) => {
          const seen = segmentByColour(view);
          return Promise.resolve(
            success({ ...seen, codes: { ...seen.codes, values: seen.codes.values.map(() => 0) } }),
          );
        },
      },
    };
    const outcome = await assessPhotos(asked, dark);
    expect(outcome.ok || outcome.fault).toEqual({ code: 'nothing-measured', unmeasuredShare: 1 });
  });
});
