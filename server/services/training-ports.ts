import type { ClassMap } from '../domain/paint-class-map.ts';
import type { PaintMark } from '../domain/api/corrections.ts';
import type { PhotoRole } from '../domain/api/photos.ts';
import type { EncodedRgbRaster } from '../measure/raster/rgb-raster.ts';

/** A correction that stands. */
export interface TaughtCorrection {
  readonly id: string;
  readonly madeAt: string;
  readonly marks: readonly PaintMark[];
  /** Whether who made it agreed that it teaches the segmenter. */
  readonly mayTrain: boolean;
}

/** A class map that people corrected, with the photo it lies on. */
export interface CorrectedPhoto {
  readonly assessmentId: string;
  readonly role: PhotoRole;
  readonly photoSha256: string;
  readonly mapSha256: string;
  readonly photoPxPerPixel: number;
  /** Null without a card in view. */
  readonly mmPerPixel: number | null;
  readonly programVersion: string;
  /** Of the map's corrections those that stand, oldest first. */
  readonly corrections: readonly TaughtCorrection[];
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Cuts training pictures out of a photo, without loss. */
export interface TrainingCutter {
  /**
   * Two PNG of the same piece: the photo inside the zone, with nothing of the file's own notes, and the class codes, a code
   * a photo pixel.
   */
  cut(
    photo: EncodedRgbRaster,
    map: ClassMap,
    box: Box,
    photoPxPerPixel: number,
  ): Promise<{ photo: Uint8Array; mask: Uint8Array }>;
}
