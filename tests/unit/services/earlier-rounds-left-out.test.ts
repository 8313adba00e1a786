import { expect, it } from 'vitest';
import { demoFolder } from '../../../server/adapters/objects/demo-folder.ts';
import { fraction, zoneFileSchema } from '../../../server/domain/index.ts';
import { assessPhotos } from '../../../server/services/assess-photos.ts';
import { wireTools } from '../../../server/wiring.ts';

it('earlier rounds that do not lead to this one are left out of the advice with a warning, and nothing measured is lost', async () => {
  const demo = await demoFolder(new URL('../../../fixtures/demo/', import.meta.url)).read();
  const [{ before, after, settings }] = demo.scenes;
  const clean = { residueFraction: fraction(0.01), low: fraction(0), high: fraction(0.02) };
  const outcome = await assessPhotos(
    {
      after: after.bytes,
      before: before.bytes,
      zone: zoneFileSchema.parse({ polygonMm: after.polygonMm }),
      zoneBefore: zoneFileSchema.parse({ polygonMm: before.polygonMm }),
      cardValues: null,
      settings: { settings, machine: demo.machine },
      earlierRounds: [{ settings, before: { residueFraction: fraction(0.9) }, after: clean }],
      target: 'Sa 2 1/2',
    },
    wireTools({ segmenter: 'colour' }),
  );
  if (!outcome.ok) throw new Error(outcome.fault.code);
  const { assessment } = outcome.value;
  expect(assessment.advice?.verdict).toBe('another round');
  expect(assessment.warnings.map((warning) => warning.code)).toContain('earlier-rounds-left-out');
}, 120_000);
