import { beforeAll, describe, expect, it } from 'vitest';
import { settingsSchema, surfacePoint } from '../../../server/domain/index.ts';
import type { FaultCode, Outcome, Zone } from '../../../server/domain/index.ts';
import { comparePatchesOfPhoto } from '../../../server/services/compare-patches-of-photo.ts';
import { RUST, STEEL, platePhoto } from '../../support/plate-photo.ts';
import { NOWHERE, ShelfOfPhotos, fileOf } from '../../support/shelf-of-photos.ts';

const shelf = new ShelfOfPhotos();
const { tools } = shelf;
const COUPON = 1;
beforeAll(async () => {
  shelf.put(COUPON, await platePhoto({ plate: (x) => (x > 232 ? RUST : STEEL), seed: 3 }));
});

const settings = settingsSchema.parse({
  powerW: 1500,
  scanWidthMm: 100,
  scanFrequencyHz: 50,
  travelSpeedMmPerS: 20,
  passes: 2,
});
const codeOf = (outcome: Outcome<unknown>): FaultCode | 'done' => (outcome.ok ? 'done' : outcome.fault.code);

describe('comparing patches of a photo', () => {
  const square = (x: number): Zone => ({
    space: 'surface',
    polygon: [surfacePoint(x, 10), surfacePoint(x + 20, 10), surfacePoint(x + 20, 60), surfacePoint(x, 60)],
  });

  it('reads the card once and every patch by it', async () => {
    const outcome = await comparePatchesOfPhoto(
      {
        photo: fileOf(COUPON),
        patches: [
          { name: 'clean', zone: square(170), settings: { settings } },
          { name: 'rusty', zone: square(234), settings: null },
        ],
        cardValues: null,
      },
      tools,
    );
    if (!outcome.ok) throw new Error(outcome.fault.code);
    expect(outcome.value.zones['clean'].residue.value).toBeLessThan(0.03);
    expect(outcome.value.zones['rusty'].residue.value).toBeGreaterThan(0.97);
    expect(outcome.value.pairs).toMatchObject([{ a: 'clean', b: 'rusty', residue: 'a cleaner' }]);
    expect(outcome.value.zones['clean'].minutesPerSquareMetre).toBeCloseTo(1000 / 60, 6);
    expect(outcome.value.zones['rusty']).not.toHaveProperty('minutesPerSquareMetre');
  });

  it('hands on why a patch cannot be measured', async () => {
    const over = { name: 'over', zone: square(100), settings: null };
    const request = { photo: fileOf(COUPON), patches: [over], cardValues: null };
    expect(codeOf(await comparePatchesOfPhoto(request, tools))).toBe('zone-over-card');
    expect(codeOf(await comparePatchesOfPhoto({ ...request, photo: fileOf(NOWHERE) }, tools))).toBe('photo-truncated');
    expect(codeOf(await comparePatchesOfPhoto({ ...request, cardValues: 'prose' }, tools))).toBe(
      'card-values-malformed',
    );
  });
});
