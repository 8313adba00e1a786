import type { Photo } from '../domain/index.ts';
import { blurWidthMm } from './geometry/block-blurred.ts';
import { pixelsPerUnit } from './geometry/photo-map.ts';
import { polygonCentroid } from './geometry/polygon.ts';
import { scaleUncertainty } from './geometry/scale-uncertainty.ts';
import type { SurfaceView } from './view-surface.ts';

export interface PhotoFacts {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly sha256: string;
}

/** What the report says about a photo: its size, and the card's answer on scale, tilt and colour at the zone. */
export function describePhoto(facts: PhotoFacts, view: SurfaceView): Photo {
  const { located, normalisation, placed } = view;
  if (located === null) {
    return { ...facts, card: { found: false, mmPerPixel: null, tiltDegrees: null, colourErrorDeltaE00: null } };
  }
  const centre = polygonCentroid(placed.polygon);
  const relativeSigma = scaleUncertainty(located, centre);
  const pxPerMm = pixelsPerUnit(located.map, centre);
  return {
    ...facts,
    card: {
      found: true,
      mmPerPixel: 1 / pxPerMm,
      mmPerPixelRelativeSigma: relativeSigma,
      tiltDegrees: view.tiltDegrees,
      ...(view.edgeBlurPx === null ? {} : { blurMm: blurWidthMm(view.edgeBlurPx, pxPerMm) }),
      edition: located.card.edition,
      markersRead: located.markersRead,
      colourErrorDeltaE00: normalisation.heldOut,
      colourErrorUntreatedDeltaE00: normalisation.untreated,
      colourCorrection: normalisation.response === null ? 'none' : normalisation.model.kind,
      patchesLeftOut: [...normalisation.leftOut],
    },
  };
}
