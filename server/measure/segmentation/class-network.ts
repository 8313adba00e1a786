import type { Outcome } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';

/** What the network is told beside the picture. */
export interface NetworkScale {
  /** mm per pixel of the raster. */
  readonly stepMm: number;
  readonly isColourNormalised: boolean;
}

/** Log odds per pixel up to a constant: not measured, then the classes in the order of SURFACE_CLASSES. */
export interface ClassLogits {
  readonly width: number;
  readonly height: number;
  readonly planes: readonly Float32Array[];
}

/** A trained network that tells classes apart from Lab D50. */
export interface ClassNetwork {
  classify(lab: LabPlanes, scale: NetworkScale): Promise<Outcome<{ network: string; logits: ClassLogits }>>;
}
