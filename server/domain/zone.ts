import type { PhotoPoint, SurfacePoint } from './spaces.ts';

/** The part of the surface that is judged, as a simple polygon in one of the two spaces; null points mean "all but the card". */
export type Zone =
  | { readonly space: 'surface'; readonly polygon: readonly SurfacePoint[] }
  | { readonly space: 'photo'; readonly polygon: readonly PhotoPoint[] };
