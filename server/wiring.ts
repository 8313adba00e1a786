import { zipArchive } from './adapters/archive/zip-archive.ts';
import { sharpPhotoDecoder } from './adapters/image/sharp-photo-decoder.ts';
import { cardPrinter } from './adapters/report/card-printer.ts';
import { reportPrinter } from './adapters/report/inspection/report-printer.ts';
import { dosePainter } from './adapters/report/dose-painter.ts';
import { picturePainter } from './adapters/report/picture-painter.ts';
import { trialPrinter } from './adapters/report/trial-sheet.ts';
import { ed25519Check } from './adapters/security/ed25519-check.ts';
import { sha256 } from './adapters/security/sha256.ts';
import { timeStamps } from './adapters/security/time-stamp/time-stamps.ts';
import { onnxClassNetwork } from './adapters/segmenter/class-network.ts';
import { openCvKernel } from './adapters/vision/open-cv-kernel.ts';
import { success } from './domain/index.ts';
import { segmentByColour } from './measure/segmentation/segment-by-colour.ts';
import { networkSegmenter } from './measure/segmentation/segment-by-network.ts';
import type { Segmenter } from './measure/segmentation/segmentation.ts';
import type { AssessTools } from './services/assess-photos.ts';
import type { ReportPrinter } from './services/evidence-ports.ts';
import type { VerifyTools } from './services/verify-bundle.ts';
import type { CardPrinter, DosePainter, PicturePainter, TrialPrinter } from './services/ports.ts';

/** What the commands work with. */
export interface Tools extends AssessTools, VerifyTools {
  segmenterNamed(name: SegmenterName): Segmenter;
  readonly cardPrinter: CardPrinter;
  readonly printer: ReportPrinter;
  readonly painter: PicturePainter;
  readonly dosePainter: DosePainter;
  readonly trialPrinter: TrialPrinter;
}

const MODELS = new URL('../models/', import.meta.url);
const colourSegmenter: Segmenter = { segment: (view) => Promise.resolve(success(segmentByColour(view))) };

export type SegmenterName = 'network' | 'colour';

/** The only place that names concrete adapters. */
export function wireTools({ segmenter = 'network' }: { readonly segmenter?: SegmenterName } = {}): Tools {
  const network = networkSegmenter(onnxClassNetwork(MODELS));
  const segmenterNamed = (name: SegmenterName): Segmenter => (name === 'colour' ? colourSegmenter : network);
  const decoder = sharpPhotoDecoder();
  return {
    decoder,
    archive: zipArchive(),
    sha256,
    signatures: ed25519Check(),
    timeStamps: timeStamps(),
    printer: reportPrinter(decoder),
    kernel: openCvKernel(),
    segmenter: segmenterNamed(segmenter),
    segmenterNamed,
    cardPrinter: cardPrinter(),
    painter: picturePainter(),
    dosePainter: dosePainter(),
    trialPrinter: trialPrinter(),
  };
}
