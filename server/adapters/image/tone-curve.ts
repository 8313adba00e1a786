import { ByteCursor } from './byte-cursor.ts';

/** Code 0..1 to linear light 0..1, as a profile defines it. */
export type ToneCurve = (code: number) => number;

const MOST_TABLE_ENTRIES = 65_536;
/** Parameters of each parametric type, named in the order g a b c d e f. Source: [ICC.1] parametricCurveType */
const PARAMETER_COUNTS = [1, 3, 4, 5, 7] as const;

/** Reads a tone curve tag; null for an unknown type or one that is cut. */
export function readToneCurve(tag: Uint8Array): ToneCurve | null {
  const cursor = new ByteCursor(tag);
  const type = cursor.text();
  cursor.skip(4);
  if (type === 'curv') return readSampledCurve(cursor);
  return type === 'para' ? readParametricCurve(cursor) : null;
}

/** No entry is the identity, one is a power in 1/256, more are samples of equal steps. Source: [ICC.1] curveType */
function readSampledCurve(cursor: ByteCursor): ToneCurve | null {
  const count = cursor.uint32();
  if (count > MOST_TABLE_ENTRIES) return null;
  const samples = Array.from({ length: count }, () => cursor.uint16());
  if (cursor.isOverrun()) return null;
  if (count === 0) return (code) => code;
  if (count === 1) return (code) => code ** (samples[0] / 256);
  return (code) => {
    const place = code * (count - 1);
    const left = Math.min(count - 2, Math.floor(place));
    return (samples[left] + (place - left) * (samples[left + 1] - samples[left])) / 65_535;
  };
}

/** Source: [ICC.1] parametricCurveType */
function readParametricCurve(cursor: ByteCursor): ToneCurve | null {
  const type = cursor.uint16();
  cursor.skip(2);
  const count = PARAMETER_COUNTS.at(type);
  if (count === undefined) return null;
  const parameters = Array.from({ length: count }, () => (cursor.uint32() | 0) / 65_536);
  if (cursor.isOverrun()) return null;
  const [g, a = 1, b = 0, c = 0, d = 0, e = 0, f = 0] = parameters;
  // Types 1 and 2 are flat below the code where the power begins.
  const isFlatBelow = type === 1 || type === 2;
  const begin = isFlatBelow ? -b / a : d;
  const offset = type === 2 ? c : e;
  const power = (code: number): number => Math.max(0, a * code + b) ** g + offset;
  const below = (code: number): number => (isFlatBelow ? offset : c * code + f);
  // Clipped, so that false parameters give a false curve but never a number outside the table that encodes it.
  return (code) => Math.min(1, Math.max(0, type === 0 || code >= begin ? power(code) : below(code)));
}
