import type { LogitTile } from '../../measure/segmentation/class-network.ts';
import type { TileSpan } from './tile-plan.ts';

/** Pixels that one place of the answer tells about, each way. */
const FOLD = 2;
/** Channels that tell classes; the one after them tells of lack of dwell, for all four pixels. */
const CLASS_CHANNELS = 24;
export const CHANNELS = CLASS_CHANNELS + 1;

/**
 * The kept part of a tile whose answer has half its size and four pixels a place: channel 4 k + 2 dy + dx is class k at
 * pixel (2 y + dy, 2 x + dx) of the tile, and the last channel is lack of dwell at all four. Up to four interleaved tiles, each over every second pixel, that look into the
 * answer: unfolding it would cost a copy.
 */
export function foldedTiles(answer: Float32Array, columns: TileSpan, rows: TileSpan): LogitTile[] {
  const stride = columns.length / FOLD;
  const places = stride * (rows.length / FOLD);
  const channels = Array.from({ length: CHANNELS }, (_, c) => answer.subarray(c * places, (c + 1) * places));
  const tiles: LogitTile[] = [];
  for (let dy = 0; dy < FOLD; dy++) {
    const down = everySecond(rows, dy);
    for (let dx = 0; dx < FOLD; dx++) {
      const across = everySecond(columns, dx);
      if (down.count === 0 || across.count === 0) continue;
      tiles.push({
        planes: channels.filter((_, c) => c < CLASS_CHANNELS && c % (FOLD * FOLD) === FOLD * dy + dx),
        column: across.at,
        row: down.at,
        width: across.count,
        height: down.count,
        step: FOLD,
        first: down.place * stride + across.place,
        stride,
        underDwell: channels[CLASS_CHANNELS],
      });
    }
  }
  return tiles;
}

/** The kept pixels of a span that lie `offset` beyond a place of the answer. */
function everySecond(
  { from, keepFrom, keepTo }: TileSpan,
  offset: number,
): { at: number; place: number; count: number } {
  const place = Math.ceil((keepFrom - from - offset) / FOLD);
  const at = from + FOLD * place + offset;
  return { at, place, count: Math.max(0, Math.ceil((keepTo - at) / FOLD)) };
}
