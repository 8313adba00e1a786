import { CLASS_CODE, SURFACE_CLASSES } from '../../domain/index.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import type { BlockCodes } from './segment-by-colour.ts';

/**
 * Where the explainable colour classifier and another segmenter disagree about residue or none: 1 is doubtful. Two readings
 * that share no training agree where the surface is clear. It reads blocks of about 1 mm: it is there to doubt areas, not edges.
 */
export function doubtfulArea({ codes: blocks, side }: BlockCodes, codes: ByteMask): ByteMask {
  const out = byteMask(codes.width, codes.height);
  const [values, doubtful] = [codes.values, out.values];
  for (let row = 0; row < codes.height; row++) {
    const line = Math.floor(row / side) * blocks.width;
    for (let block = 0; block < blocks.width; block++) {
      const other = blocks.values[line + block];
      if (other === 0) continue;
      const doubtOf = isResidue(other) ? DOUBT_BESIDE_RESIDUE : DOUBT_BESIDE_CLEAN;
      const end = row * codes.width + Math.min(codes.width, (block + 1) * side);
      for (let i = row * codes.width + block * side; i < end; i++) doubtful[i] = doubtOf[values[i]];
    }
  }
  return out;
}

const isResidue = (code: number): boolean => code >= CLASS_CODE.rust;

/** By code, of what is told where the colour classifier reads residue, or none; nothing told is no doubt. */
const DOUBT_BESIDE_RESIDUE = doubtByCode(true);
const DOUBT_BESIDE_CLEAN = doubtByCode(false);

function doubtByCode(otherIsResidue: boolean): Uint8Array {
  return Uint8Array.from({ length: SURFACE_CLASSES.length + 1 }, (_, code) =>
    code !== 0 && isResidue(code) !== otherIsResidue ? 1 : 0,
  );
}
