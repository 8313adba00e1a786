import { describe, expect, it } from 'vitest';
import { pictureFrame } from '../../../../client/viewer/picture-frame.ts';
import { mapPoint } from '../../../../client/viewer/plane-geometry.ts';
import type { ZoneAssessment } from '../../../../server/domain/api/assessments.ts';

/** A class map at half the photo's size, one millimetre to four photo pixels, the card's corner at photo pixel (100, 60). */
const assessment = (isCardFound: boolean): ZoneAssessment =>
  ({
    photos: { before: null, after: 'photo' },
    result: { photos: { before: null, after: { widthPx: 800, heightPx: 600, card: { found: isCardFound } } } },
    classMaps: {
      before: null,
      after: { widthPx: 400, heightPx: 300, photoPxPerPixel: 2, planeFromMap: [0.5, 0, -25, 0, 0.5, -15, 0, 0, 1] },
    },
    basis: {
      outlines: {
        before: null,
        after: {
          polygonMm: [
            [0, 0],
            [10, 0],
            [10, 20],
            [0, 20],
          ],
        },
      },
    },
  }) as unknown as ZoneAssessment;

describe('the frame of a photo', () => {
  it('takes photo pixels to millimetres by the plane of the class map', () => {
    const frame = pictureFrame(assessment(true), 'after');
    expect(mapPoint(frame?.toMm ?? [], [140, 100])).toEqual([10, 10]);
  });

  it('knows where a zone stated in millimetres lies in the photo', () => {
    expect(pictureFrame(assessment(true), 'after')?.zonePx).toEqual([
      [100, 60],
      [140, 60],
      [140, 140],
      [100, 140],
    ]);
  });

  it('has no millimetres without a card, and no frame without a photo', () => {
    expect(pictureFrame(assessment(false), 'after')).toMatchObject({ toMm: null, zonePx: null });
    expect(pictureFrame(assessment(true), 'before')).toBeNull();
  });
});
