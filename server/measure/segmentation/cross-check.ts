import { CLASS_CODE } from '../../domain/index.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import type { SegmentedView } from './segmentation.ts';
import { blockCodesByColour } from './segment-by-colour.ts';

/**
 * Where the explainable colour classifier and another segmenter disagree about residue or none: 1 is doubtful. Two readings
 * that share no training agree where the surface is clear. It reads blocks of about 1 mm: it is there to doubt areas, not edges.
 */
export function doubtfulArea(view: SegmentedView, codes: ByteMask): ByteMask {
  const { codes: blocks, side } = blockCodesByColour(view);
  const out = byteMask(codes.width, codes.height);
  const [values, doubtful] = [codes.values, out.values];
  for (let row = 0; row < codes.height; row++) {
    const line = Math.floor(row / side) * blocks.width;
    for (let block = 0; block < blocks.width; block++) {
      const other = blocks.values[line + block];
      if (other === 0) continue;
      const otherIsResidue = isResidue(other);
      const end = row * codes.width + Math.min(codes.width, (block + 1) * side);
      for (let i = row * codes.width + block * side; i < end; i++) {
        if (values[i] !== 0 && isResidue(values[i]) !== otherIsResidue) doubtful[i] = 1;
      }
    }
  }
  return out;
}

const isResidue = (code: number): boolean => code >= CLASS_CODE.rust;
