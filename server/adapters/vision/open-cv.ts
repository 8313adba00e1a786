import { createRequire } from 'node:module';

/** The part of opencv-wasm 4.3 that is used here, typed by hand: the package's own types miss half of it. */
export interface Mat {
  readonly rows: number;
  readonly cols: number;
  readonly data: Uint8Array;
  readonly data32S: Int32Array;
  delete(): void;
}
export interface MatVector {
  size(): number;
  get(index: number): Mat;
  delete(): void;
}
export interface KeyPointVector {
  size(): number;
  get(index: number): { pt: { x: number; y: number } };
  delete(): void;
}
export interface MatchVector {
  size(): number;
  get(index: number): { queryIdx: number; trainIdx: number; distance: number };
  delete(): void;
}
interface Detector {
  detectAndCompute(image: Mat, mask: Mat, keypoints: KeyPointVector, descriptors: Mat): void;
  delete(): void;
}
interface Matcher {
  match(query: Mat, train: Mat, matches: MatchVector): void;
  delete(): void;
}
export interface OpenCv {
  Mat: { new (): Mat; new (rows: number, cols: number, type: number): Mat };
  MatVector: new () => MatVector;
  KeyPointVector: new () => KeyPointVector;
  DMatchVector: new () => MatchVector;
  ORB: new (mostKeypoints: number) => Detector;
  BFMatcher: new (norm: number, crossCheck: boolean) => Matcher;
  adaptiveThreshold(
    ...options: [from: Mat, to: Mat, inside: number, method: number, type: number, window: number, offset: number]
  ): void;
  findContours(from: Mat, contours: MatVector, hierarchy: Mat, mode: number, method: number): void;
  approxPolyDP(from: Mat, to: Mat, tolerance: number, closed: boolean): void;
  arcLength(curve: Mat, closed: boolean): number;
  isContourConvex(curve: Mat): boolean;
  CV_8U: number;
  ADAPTIVE_THRESH_MEAN_C: number;
  THRESH_BINARY_INV: number;
  RETR_LIST: number;
  CHAIN_APPROX_SIMPLE: number;
  NORM_HAMMING: number;
  HEAP8: Int8Array;
}

let loaded: OpenCv | null = null;

/**
 * Loads the library on first use (about 0.1 s). Its loader installs process-wide handlers that turn any uncaught error of
 * ours into its own abort; they are taken off again.
 */
export function openCv(): OpenCv {
  if (loaded !== null) return loaded;
  const events = ['uncaughtException', 'unhandledRejection'] as const;
  const before = events.map((event) => new Set(process.listeners(event as 'uncaughtException')));
  const library = createRequire(import.meta.url)('opencv-wasm') as { cv: OpenCv };
  events.forEach((event, i) => {
    for (const listener of process.listeners(event as 'uncaughtException')) {
      if (!before[i].has(listener)) process.off(event, listener);
    }
  });
  loaded = library.cv;
  return loaded;
}
