/**
 * Points are typed by the space they live in, so that pixels and millimetres never mix.
 * The brand key is a type only; at run time a point is a plain `[x, y]`.
 */
declare const space: unique symbol;
type PointIn<Space extends string> = readonly [x: number, y: number] & { readonly [space]: Space };

/** Pixels of the upright photo: origin at the top-left corner of the top-left pixel, x right, y down (pixel centres at +0.5). */
export type PhotoPoint = PointIn<'photo'>;
/** Millimetres in the plane of the card: origin at the top-left outer corner of the card's outline, x right, y down. */
export type SurfacePoint = PointIn<'surface'>;

export const photoPoint = (x: number, y: number): PhotoPoint => [x, y] as unknown as PhotoPoint;
export const surfacePoint = (x: number, y: number): SurfacePoint => [x, y] as unknown as SurfacePoint;

type AnyPoint = PhotoPoint | SurfacePoint;

/** A plane projective map, row-major 3 x 3, scaled so that the last element is 1. */
export type Homography<From extends AnyPoint, To extends AnyPoint> = {
  readonly elements: readonly [number, number, number, number, number, number, number, number, number];
  /** Types only: keeps a map from photo to surface apart from its inverse. */
  readonly _from?: From;
  readonly _to?: To;
};
