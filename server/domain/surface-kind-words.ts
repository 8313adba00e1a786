/** Kinds of surface that are told apart when the next setting is weighed. */
export const SURFACE_KIND_WORDS = [
  'light rust',
  'heavy pitted rust',
  'mill scale',
  'tight oxide',
  'paint',
  'unknown',
] as const;
export type SurfaceKind = (typeof SURFACE_KIND_WORDS)[number];
