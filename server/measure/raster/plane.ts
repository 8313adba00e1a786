/** One number per pixel, rows from the top left. What the numbers mean is said where the plane is made. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** 8-bit grey picture, as vision kernels take it. */
export interface GreyRaster {
  readonly width: number;
  readonly height: number;
  readonly values: Uint8Array;
}

/** One byte per pixel: 0 is outside, anything else inside; or a class code, where the name says so. */
export interface ByteMask {
  readonly width: number;
  readonly height: number;
  readonly values: Uint8Array;
}

export const plane = (width: number, height: number): Plane => ({
  width,
  height,
  values: new Float32Array(width * height),
});

export const byteMask = (width: number, height: number): ByteMask => ({
  width,
  height,
  values: new Uint8Array(width * height),
});
