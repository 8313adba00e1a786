import { surfacePoint } from '../../server/domain/index.ts';
import { labPlanes } from '../../server/measure/colour/lab-planes.ts';
import type { LabPlanes } from '../../server/measure/colour/lab-planes.ts';
import { PLAIN_SRGB } from '../../server/measure/colour/normalise-colour.ts';
import { flatPhotoMap, photoMap, straightLens } from '../../server/measure/geometry/photo-map.ts';
import type { SurfaceGrid } from '../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../server/measure/raster/plane.ts';
import type { SurfaceView } from '../../server/measure/view-surface.ts';
import { faceOn, placedCard } from './placed-card.ts';

export type LabAt = (column: number, row: number) => readonly [L: number, a: number, b: number];

/** Lab planes from a rule. */
export function labOf(width: number, height: number, at: LabAt): LabPlanes {
  const lab = labPlanes(width, height);
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      const [L, a, b] = at(column, row);
      lab.L.values[i] = L;
      lab.a.values[i] = a;
      lab.b.values[i] = b;
    }
  }
  return lab;
}

/** A zone all in view, in true colour, on a grid of `stepMm`; with stepMm null it is a photo without a card, in pixels. */
export function plainView(
  size: { readonly width: number; readonly height: number; readonly stepMm: number | null },
  at: LabAt,
): SurfaceView {
  const { width, height, stepMm } = size;
  const step = stepMm ?? 1;
  const grid: SurfaceGrid = {
    unit: stepMm === null ? 'px' : 'mm',
    width,
    height,
    step,
    origin: [0, 0],
    angle: 0,
  };
  const [right, below] = [width * step, height * step];
  const zone = byteMask(width, height);
  zone.values.fill(1);
  return {
    located: stepMm === null ? null : placedCard(faceOn(1 / step, [0, 0]), { width, height }),
    tiltDegrees: stepMm === null ? null : 0,
    edgeBlurPx: null,
    placed: {
      unit: grid.unit,
      polygon: [surfacePoint(0, 0), surfacePoint(right, 0), surfacePoint(right, below), surfacePoint(0, below)],
      map: stepMm === null ? flatPhotoMap(size) : photoMap(faceOn(1 / step, [0, 0]), straightLens(size)),
      isWholePhoto: false,
      pxPerUnit: 1 / step,
    },
    normalisation: PLAIN_SRGB,
    grid,
    lab: labOf(width, height, at),
    zone,
    blocked: byteMask(width, height),
  };
}
