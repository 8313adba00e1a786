import type { Fault } from '../../domain/index.ts';
import type { PhotoHeader } from './photo-header.ts';

/** Least side of a photo; a smaller picture is an icon. Chosen here: the smallest card marker needs about as much. */
export const LEAST_SIDE_PX = 32;
/** Above the 48 to 64 megapixels that phones store at most today (common practice); bounds memory at 480 MB of pixels. */
export const MOST_MEGAPIXELS = 80;
export const MOST_PIXELS = MOST_MEGAPIXELS * 1e6;

export const CUT_PICTURE = 'the file stops before the end of the picture';

/** HDR stills need tone mapping, a choice that would shape the measured colours. Source: [H.273] transfer characteristics */
const SRGB_LIKE_TRANSFERS: ReadonlySet<number> = new Set([1, 2, 6, 13, 14, 15]);
const TRANSFER_NAMES: Readonly<Record<number, string>> = { 8: 'linear light', 16: 'HDR (PQ)', 18: 'HDR (HLG)' };
/** 1 is sRGB's own, 2 unspecified, 12 Display P3. Source: [H.273] colour primaries */
const KNOWN_PRIMARIES: ReadonlySet<number> = new Set([1, 2, 12]);

/** The first reason in the header to refuse the photo before decoding it, or null. */
export function findHeaderFault(header: PhotoHeader): Fault | null {
  const { widthPx, heightPx, frames, pictureBytes, pictureDamage } = header;
  if (widthPx * heightPx > MOST_PIXELS) {
    return { code: 'photo-too-large', megapixels: (widthPx * heightPx) / 1e6, mostMegapixels: MOST_MEGAPIXELS };
  }
  if (widthPx === 0 || heightPx === 0) {
    return { code: 'photo-truncated', detail: `its size is given as ${widthPx} x ${heightPx} px` };
  }
  if (frames > 1) return { code: 'photo-animated', frames };
  const found = header.colourObstacle ?? findCodePointObstacle(header);
  if (found !== null) return { code: 'photo-colour-model', found };
  if (isTooSmall(widthPx, heightPx)) return tooSmall(widthPx, heightPx);
  if (pictureBytes === null) {
    return { code: 'photo-truncated', detail: CUT_PICTURE };
  }
  return pictureDamage === null ? null : { code: 'photo-truncated', detail: pictureDamage };
}

export const isTooSmall = (widthPx: number, heightPx: number): boolean => Math.min(widthPx, heightPx) < LEAST_SIDE_PX;

export const tooSmall = (widthPx: number, heightPx: number): Fault => ({
  code: 'photo-too-small',
  widthPx,
  heightPx,
  leastPx: LEAST_SIDE_PX,
});

/** An ICC profile says more than the code points and goes before them. Source: [HEIF] colour information property */
function findCodePointObstacle({ codePoints, icc }: PhotoHeader): string | null {
  if (codePoints === null || icc !== null) return null;
  const { primaries, transfer } = codePoints;
  if (!SRGB_LIKE_TRANSFERS.has(transfer)) return TRANSFER_NAMES[transfer] ?? `transfer function number ${transfer}`;
  return KNOWN_PRIMARIES.has(primaries) ? null : `RGB with colour primaries number ${primaries}`;
}
