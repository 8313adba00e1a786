import type {
  DosePicture,
  Outcome,
  PhotoTime,
  ReferenceCard,
  Streaks,
  Surface,
  SurfacePoint,
  TrialPlan,
} from '../domain/index.ts';
import type { EncodedRgbRaster } from '../measure/raster/rgb-raster.ts';
import type { Segmentation } from '../measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../measure/view-surface.ts';

/** A photo as the measuring core takes it: upright, in sRGB codes. */
export interface DecodedPhoto {
  readonly raster: EncodedRgbRaster;
  /** SHA-256 of the file's bytes, lower-case hex. */
  readonly sha256: string;
  /** By the phone's clock, as the file says; null where it says nothing. */
  readonly takenAt: PhotoTime | null;
}

/** Turns a photo file into an upright sRGB raster, or says why not. Never throws for what a file may hold. */
export interface PhotoDecoder {
  decode(file: Uint8Array): Promise<Outcome<DecodedPhoto>>;
}

export type PaperSize = 'a4' | 'letter';

/** Draws the reference card for print and screen. */
export interface CardPrinter {
  pdf(card: ReferenceCard, paper: PaperSize): Promise<Uint8Array>;
  /** Exactly the card's outline. */
  png(card: ReferenceCard, dpi: number): Promise<Uint8Array>;
}

/** Draws the sheet that goes along to a trial. */
export interface TrialPrinter {
  sheet(plan: TrialPlan, paper: PaperSize): Promise<Uint8Array>;
}

/** Draws a dose picture in true proportion, with a scale. */
export interface DosePainter {
  png(picture: DosePicture, show: 'residue' | 'energy'): Promise<Uint8Array>;
}

export interface OverlayRequest {
  readonly title: string;
  readonly photo: EncodedRgbRaster;
  readonly view: SurfaceView;
  readonly segmentation: Segmentation;
  readonly surface: Surface;
  readonly streaks: Streaks;
  /** Lines along the streaks, in the plane of the surface. */
  readonly streakLines: readonly (readonly SurfacePoint[])[];
}

/** Draws pictures of what was measured. */
export interface PicturePainter {
  overlay(request: OverlayRequest): Promise<Uint8Array>;
  /** A class map as 8-bit grey PNG, one code per pixel of the upright photo. */
  classMap(codes: Uint8Array, width: number, height: number): Promise<Uint8Array>;
}
