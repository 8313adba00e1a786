import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { codesInPhoto } from '../measure/segmentation/codes-in-photo.ts';
import type { Segmenter } from '../measure/segmentation/segmentation.ts';
import { readCard, viewSurface } from '../measure/view-surface.ts';
import type { VisionKernel } from '../measure/vision-kernel.ts';
import type { PhotoDecoder, PicturePainter } from './ports.ts';

export interface SegmentTools {
  readonly decoder: PhotoDecoder;
  readonly kernel: VisionKernel;
  readonly segmenter: Segmenter;
  readonly painter: PicturePainter;
}

export interface SegmentRequest {
  readonly file: Uint8Array;
  /** Stated scale of a photo without a card. */
  readonly mmPerPixel: number | null;
}

/** The class map of a whole photo, the size of the upright photo, as 8-bit PNG. The card and what is unreadable are 0. */
export async function segmentPhoto(request: SegmentRequest, tools: SegmentTools): Promise<Outcome<Uint8Array>> {
  const decoding = await tools.decoder.decode(request.file);
  if (!decoding.ok) return decoding;
  const { raster } = decoding.value;
  const card = readCard(raster, null, tools.kernel);
  if (!card.ok) return card;
  const viewing = viewSurface(raster, card.value, null, request.mmPerPixel);
  if (!viewing.ok) return viewing;
  const segmenting = await tools.segmenter.segment(viewing.value);
  if (!segmenting.ok) return segmenting;
  const size = { width: raster.width, height: raster.height, photoPxPerPixel: 1 };
  const codes = codesInPhoto(viewing.value, segmenting.value, size, 0);
  return success(await tools.painter.classMap(codes, raster.width, raster.height));
}
