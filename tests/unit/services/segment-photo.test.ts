import { beforeAll, describe, expect, it } from 'vitest';
import type { FaultCode, Outcome } from '../../../server/domain/index.ts';
import { segmentPhoto } from '../../../server/services/segment-photo.ts';
import { STEEL, platePhoto } from '../../support/plate-photo.ts';
import { NOWHERE, ShelfOfPhotos, fileOf } from '../../support/shelf-of-photos.ts';

const shelf = new ShelfOfPhotos();
const { tools } = shelf;
const PLAIN = 1;
beforeAll(async () => {
  shelf.put(PLAIN, await platePhoto({ plate: () => STEEL, withCard: false, seed: 4 }));
});
const codeOf = (outcome: Outcome<unknown>): FaultCode | 'done' => (outcome.ok ? 'done' : outcome.fault.code);

describe('segmenting a photo', () => {
  const drawn: { codes: Uint8Array; width: number; height: number }[] = [];
  const painter = {
    overlay: () => Promise.reject(new Error('not asked')),
    classMap: (codes: Uint8Array, width: number, height: number) => {
      drawn.push({ codes, width, height });
      return Promise.resolve(Uint8Array.of(7));
    },
  };

  it('paints codes for every pixel of the photo', async () => {
    const outcome = await segmentPhoto({ file: fileOf(PLAIN), mmPerPixel: null }, { ...tools, painter });
    expect(outcome).toEqual({ ok: true, value: Uint8Array.of(7) });
    const [{ codes, width, height }] = drawn;
    expect(codes).toHaveLength(width * height);
    expect(codes.filter((code) => code === 1).length / codes.length).toBeGreaterThan(0.9);
  });

  it('hands on why a photo cannot be read', async () => {
    const outcome = await segmentPhoto({ file: fileOf(NOWHERE), mmPerPixel: null }, { ...tools, painter });
    expect(codeOf(outcome)).toBe('photo-truncated');
  });
});
