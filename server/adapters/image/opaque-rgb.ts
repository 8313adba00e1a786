import { failure, success, type Outcome } from '../../domain/index.ts';

/**
 * Drops an opaque alpha channel, inside the same memory: a second copy of a large photo is not affordable.
 * Refuses any pixel that is not wholly opaque, since its colour depends on a background nobody knows.
 */
export function dropOpaqueAlpha<Samples extends Uint8Array | Uint16Array>(rgba: Samples): Outcome<Samples> {
  const opaque = rgba instanceof Uint8Array ? 255 : 65535;
  const pixels = rgba.length / 4;
  let transparent = 0;
  for (let index = 3; index < rgba.length; index += 4) if (rgba[index] !== opaque) transparent += 1;
  if (transparent > 0) return failure({ code: 'photo-transparent', share: transparent / pixels });
  for (let from = 0, to = 0; from < rgba.length; from += 4, to += 3) {
    rgba[to] = rgba[from];
    rgba[to + 1] = rgba[from + 1];
    rgba[to + 2] = rgba[from + 2];
  }
  return success(rgba.subarray(0, pixels * 3) as Samples);
}
