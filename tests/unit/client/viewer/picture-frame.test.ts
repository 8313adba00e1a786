import { describe, expect, it } from 'vitest';
import { linesInPhoto, pictureFrame, worstInPhoto } from '../../../../client/viewer/picture-frame.ts';
import { mapPoint } from '../../../../client/viewer/plane-geometry.ts';
import type { WorstUnitArea } from '../../../../server/domain/surface.ts';
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

describe('the worst square in the photo', () => {
  const worst = { sideMm: 76, residueFraction: 0.2, stainFraction: 0, centreMm: [100, 50] } as unknown as WorstUnitArea;
  /** Two pixels for a millimetre. */
  const fromMm = [2, 0, 0, 0, 2, 0, 0, 0, 1];

  it('has its four corners half a side from the middle', () => {
    expect(worstInPhoto({ fromMm }, { ...worst, turnDegrees: 0 })).toEqual([
      [124, 24],
      [276, 24],
      [276, 176],
      [124, 176],
    ]);
  });

  it('lies on a corner when turned by half a right angle: half a diagonal is 38 sqrt 2 mm', () => {
    const corners = worstInPhoto({ fromMm }, { ...worst, turnDegrees: 45 }) ?? [];
    expect(Math.min(...corners.map(([, y]) => y))).toBeCloseTo(2 * (50 - 38 * Math.SQRT2), 9);
    expect(Math.max(...corners.map(([x]) => x))).toBeCloseTo(2 * (100 + 38 * Math.SQRT2), 9);
  });

  it('is not guessed where its turn or the millimetres are missing', () => {
    expect(worstInPhoto({ fromMm }, worst)).toBeNull();
    expect(worstInPhoto({ fromMm: null }, { ...worst, turnDegrees: 0 })).toBeNull();
  });
});

describe('streaks in the photo', () => {
  it('are the lines of the class map at the size of the photo', () => {
    const lines: [number, number][][] = [
      [
        [1, 2],
        [3, 4.5],
      ],
      [],
    ];
    expect(linesInPhoto({ ...assessment(true), streakLines: lines })).toEqual([
      [
        [2, 4],
        [6, 9],
      ],
      [],
    ]);
  });
});
