import type { Homography, PhotoPoint, SurfacePoint } from '../../server/domain/index.ts';
import { surfacePoint } from '../../server/domain/index.ts';
import { referenceCard } from '../../server/measure/card/card-layout.ts';
import type { LocatedCard } from '../../server/measure/card/locate-card.ts';
import { homography } from '../../server/measure/geometry/homography.ts';
import { photoMap, straightLens, toPhotoPixel } from '../../server/measure/geometry/photo-map.ts';

/** A card whose place in a photo is known, without any picture: for what follows after it was found. */
export function placedCard(
  toPhoto: Homography<SurfacePoint, PhotoPoint>,
  photo: { readonly width: number; readonly height: number },
): LocatedCard {
  const card = referenceCard();
  const map = photoMap(toPhoto, straightLens(photo));
  const corners: [number, number][] = [
    [0, 0],
    [card.widthMm, 0],
    [card.widthMm, card.heightMm],
    [0, card.heightMm],
  ];
  return {
    card,
    map,
    covariance: new Float64Array(64),
    bendSigma: 0,
    outline: corners.map(([x, y]) => toPhotoPixel(map, surfacePoint(x, y))),
    markersRead: 4,
  };
}

/** Card face on: so many pixels per mm, its top left corner at this pixel. */
export const faceOn = (pxPerMm: number, [left, top]: readonly [number, number]): Homography<SurfacePoint, PhotoPoint> =>
  homography([pxPerMm, 0, left, 0, pxPerMm, top, 0, 0, 1]);
