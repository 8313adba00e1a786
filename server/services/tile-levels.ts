/** Side of a tile: about four tiles cover a phone, about twenty a desktop (common practice is 256 to 512). */
export const TILE_SIZE_PX = 512;

export interface LevelSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Sizes of the tile pyramid of a photo, smallest first: halved until one tile holds it, the last is the photo itself. */
export function tileLevels(widthPx: number, heightPx: number): readonly LevelSize[] {
  const levels: LevelSize[] = [];
  for (let divisor = 1; ; divisor *= 2) {
    const size = { widthPx: Math.ceil(widthPx / divisor), heightPx: Math.ceil(heightPx / divisor) };
    levels.unshift(size);
    if (Math.max(size.widthPx, size.heightPx) <= TILE_SIZE_PX) return levels;
  }
}
