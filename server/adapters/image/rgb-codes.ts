/** Decoded pixels in the colours of their own profile: R, G, B interleaved, codes 0..255 or 0..65535. */
export interface RgbCodes {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array | Uint16Array;
}

/** Raw sample bytes as 8-bit numbers, or as 16-bit numbers in the machine's order; a copy only for an odd address. */
export function samplesOf(data: Uint8Array, isDeep: boolean): Uint8Array | Uint16Array {
  if (!isDeep) return new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
  const aligned = data.byteOffset % 2 === 0 ? data : Uint8Array.from(data);
  return new Uint16Array(aligned.buffer, aligned.byteOffset, aligned.byteLength / 2);
}
