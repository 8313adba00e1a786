import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { codesInPhoto } from '../measure/segmentation/codes-in-photo.ts';
import type { Segmenter } from '../measure/segmentation/segmentation.ts';
import { viewSurface } from '../measure/view-surface.ts';
import { openPhoto } from './open-photo.ts';
import type { OpenPhotoTools } from './open-photo.ts';
import type { PicturePainter } from './ports.ts';

export interface SegmentTools extends OpenPhotoTools {
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
  const opened = await openPhoto(request.file, null, tools);
  if (!opened.ok) return opened;
  const { photo, card } = opened.value;
  const viewing = viewSurface(photo, card, null, request.mmPerPixel);
  if (!viewing.ok) return viewing;
  const segmenting = await tools.segmenter.segment(viewing.value);
  if (!segmenting.ok) return segmenting;
  const { width, height } = photo;
  const codes = codesInPhoto(viewing.value, segmenting.value, { width, height, photoPxPerPixel: 1 }, 0);
  return success(await tools.painter.classMap(codes, width, height));
}
