import { CLASS_CODE } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';
import { reducePlane } from '../raster/reduce-plane.ts';
import type { SurfaceView } from '../view-surface.ts';
import { codesByColour } from './segment-by-colour.ts';

/** The cross-check looks at squares of this many pixels a side: it is there to doubt areas, not edges. */
const SIDE = 2;

/**
 * Where the explainable colour classifier and another segmenter disagree about residue or none: 1 is doubtful. Two readings
 * that share no training agree where the surface is clear.
 */
export function doubtfulArea(view: SurfaceView, codes: ByteMask): ByteMask {
  const coarse = coarseView(view);
  const check = codesByColour(coarse);
  const out = byteMask(codes.width, codes.height);
  for (let row = 0, i = 0; row < codes.height; row++) {
    const line = Math.floor(row / SIDE) * check.width;
    for (let column = 0; column < codes.width; column++, i++) {
      const other = check.values[line + Math.floor(column / SIDE)];
      if (codes.values[i] === 0 || other === 0) continue;
      if (isResidue(codes.values[i]) !== isResidue(other)) out.values[i] = 1;
    }
  }
  return out;
}

const isResidue = (code: number): boolean => code >= CLASS_CODE.rust;

function coarseView(view: SurfaceView): SurfaceView {
  const width = Math.ceil(view.grid.width / SIDE);
  const height = Math.ceil(view.grid.height / SIDE);
  const reduce = (from: Plane): Plane => reducePlane(from, SIDE);
  const lab: LabPlanes = { L: reduce(view.lab.L), a: reduce(view.lab.a), b: reduce(view.lab.b) };
  return {
    ...view,
    grid: { ...view.grid, width, height, step: view.grid.step * SIDE },
    lab,
    zone: everyOther(view.zone, width, height),
    blocked: everyOther(view.blocked, width, height),
  };
}

function everyOther(from: ByteMask, width: number, height: number): ByteMask {
  const out = byteMask(width, height);
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      out.values[i] = from.values[row * SIDE * from.width + column * SIDE];
    }
  }
  return out;
}
