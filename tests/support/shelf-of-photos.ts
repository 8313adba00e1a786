import { openCvKernel } from '../../server/adapters/vision/open-cv-kernel.ts';
import { failure, success } from '../../server/domain/index.ts';
import type { EncodedRgbRaster } from '../../server/measure/raster/rgb-raster.ts';
import { segmentByColour } from '../../server/measure/segmentation/segment-by-colour.ts';
import type { AssessTools } from '../../server/services/assess-photos.ts';

/** Photos that stand ready under a number; the file of a photo is that one byte, and any other file is cut short. */
export class ShelfOfPhotos {
  readonly #photos = new Map<number, EncodedRgbRaster>();
  readonly tools: AssessTools = {
    decoder: {
      decode: ([name]) => {
        const raster = this.#photos.get(name);
        return Promise.resolve(
          raster === undefined
            ? failure({ code: 'photo-truncated', detail: 'for a test' })
            : success({ raster, sha256: String(name).padStart(64, '0'), takenAt: null }),
        );
      },
    },
    kernel: openCvKernel(),
    segmenter: { segment: (view) => Promise.resolve(success(segmentByColour(view))) },
  };

  put(name: number, photo: EncodedRgbRaster): void {
    this.#photos.set(name, photo);
  }
}

export const fileOf = (name: number): Uint8Array => Uint8Array.of(name);
/** Nothing stands under this number. */
export const NOWHERE = 99;
