import { cardToPlane } from '../../fixtures/generate/card/card-sheet.ts';
import type { SceneTruth } from '../../fixtures/generate/scene/render-scene.ts';
import { photoPixelIn } from '../../fixtures/generate/scene/render-scene.ts';
import { surfacePoint } from '../../server/domain/index.ts';
import type { Zone } from '../../server/domain/index.ts';
import type { LocatedCard } from '../../server/measure/card/locate-card.ts';
import { pixelsPerUnit } from '../../server/measure/geometry/photo-map.ts';
import { percentile } from '../support/percentile.ts';

type Vertex = readonly [number, number];

export const surfaceZone = (polygonMm: readonly Vertex[]): Zone => ({
  space: 'surface',
  polygon: polygonMm.map(([x, y]) => surfacePoint(x, y)),
});

/** Largest share by which the local scale may be sought wrong: 95th percentile over points within 200 mm of the card. */
export function scaleErrorNear(
  truth: SceneTruth,
  photo: { width: number; height: number },
  located: LocatedCard,
): number {
  const { widthMm, heightMm } = located.card;
  const errors: number[] = [];
  for (let i = 0; i < 20; i++) {
    for (let j = 0; j < 20; j++) {
      const x = -200 + (widthMm + 400) * ((i + 0.5) / 20);
      const y = -200 + (heightMm + 400) * ((j + 0.5) / 20);
      if (Math.hypot(Math.max(-x, 0, x - widthMm), Math.max(-y, 0, y - heightMm)) > 200) continue;
      const [u, v] = photoPixelIn(truth, [x, y]);
      if (u < 0 || v < 0 || u > photo.width || v > photo.height) continue;
      errors.push(Math.abs(pixelsPerUnit(located.map, surfacePoint(x, y)) / truePixelsPerMm(truth, x, y) - 1));
    }
  }
  return percentile(errors, 0.95);
}

/** Central differences on the true camera. */
function truePixelsPerMm(truth: SceneTruth, x: number, y: number): number {
  const [a, b] = [photoPixelIn(truth, [x + 1, y]), photoPixelIn(truth, [x - 1, y])];
  const [c, d] = [photoPixelIn(truth, [x, y + 1]), photoPixelIn(truth, [x, y - 1])];
  return Math.sqrt(Math.abs((a[0] - b[0]) * (c[1] - d[1]) - (a[1] - b[1]) * (c[0] - d[0])) / 4);
}

/** True class at a point of the card's plane, 0 beyond the plate. */
export function trueClassAt({ classMap }: SceneTruth, [x, y]: Vertex): number {
  const [gx, gy] = cardToPlane(classMap.placement, x, y);
  const column = Math.floor(gx / classMap.mmPerPixel);
  const row = Math.floor(gy / classMap.mmPerPixel);
  if (column < 0 || row < 0 || column >= classMap.width || row >= classMap.height) return 0;
  return classMap.codes[row * classMap.width + column];
}
