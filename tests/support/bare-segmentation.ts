import { CLASS_CODE } from '../../server/domain/index.ts';
import { byteMask } from '../../server/measure/raster/plane.ts';
import type { Segmentation } from '../../server/measure/segmentation/segmentation.ts';

/** All of a raster bare, and sure of it. */
export function bareSegmentation({ width, height }: { readonly width: number; readonly height: number }): Segmentation {
  const codes = byteMask(width, height);
  codes.values.fill(CLASS_CODE.bare);
  const none = (): Uint8Array => new Uint8Array(width * height);
  return {
    segmenter: 'by hand',
    codes,
    probabilities: [none().fill(255), none(), none(), none(), none()],
    underDwell: null,
    blocked: byteMask(width, height),
    doubtful: null,
    shareSigma: { bare: 0, stain: 0, rust: 0, scale: 0, coating: 0, residue: 0 },
  };
}
