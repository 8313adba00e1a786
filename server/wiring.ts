import { sharpPhotoDecoder } from './adapters/image/sharp-photo-decoder.ts';
import { cardPrinter } from './adapters/report/card-printer.ts';
import { picturePainter } from './adapters/report/picture-painter.ts';
import { onnxClassNetwork } from './adapters/segmenter/class-network.ts';
import { openCvKernel } from './adapters/vision/open-cv-kernel.ts';
import { success } from './domain/index.ts';
import { segmentByColour } from './measure/segmentation/segment-by-colour.ts';
import { networkSegmenter } from './measure/segmentation/segment-by-network.ts';
import type { Segmenter } from './measure/segmentation/segmentation.ts';
import type { AssessTools } from './services/assess-photos.ts';
import type { CardPrinter, PicturePainter } from './services/ports.ts';

/** What the commands work with. */
export interface Tools extends AssessTools {
  segmenterNamed(name: SegmenterName): Segmenter;
  readonly cardPrinter: CardPrinter;
  readonly painter: PicturePainter;
}

const MODELS = new URL('../models/', import.meta.url);
const colourSegmenter: Segmenter = { segment: (view) => Promise.resolve(success(segmentByColour(view))) };

export type SegmenterName = 'network' | 'colour';

/** The only place that names concrete adapters. */
export function wireTools({ segmenter = 'network' }: { readonly segmenter?: SegmenterName } = {}): Tools {
  const network = networkSegmenter(onnxClassNetwork(MODELS));
  const segmenterNamed = (name: SegmenterName): Segmenter => (name === 'colour' ? colourSegmenter : network);
  return {
    decoder: sharpPhotoDecoder(),
    kernel: openCvKernel(),
    segmenter: segmenterNamed(segmenter),
    segmenterNamed,
    cardPrinter: cardPrinter(),
    painter: picturePainter(),
  };
}
