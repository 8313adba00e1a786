import { frameThrough } from './straighten-frame.ts';
import type { StripShift } from './straighten-frame.ts';
import { lineShape } from './line-shape.ts';
import { LINE_LOOKS, readStripDepths } from './strip-depths.ts';
import type { LineStrips, ThroughLine } from './through-lines.ts';
import type { StripeFrame } from './strip-profiles.ts';

/** How far off its place a line is sought in each strip, mm, beside half its width. */
const REACH_MM = 2.5;

/** The frame of a line turned and bent to where the line lies in each strip. */
export function followLine(strips: LineStrips, line: ThroughLine): StripeFrame {
  const p = strips.project(line.frame);
  const shape = lineShape(line.widthMm, p.binMm);
  const look = LINE_LOOKS.indexOf(line.look);
  const place = Math.round((line.placeMm - p.startMm) / p.binMm);
  const reach = Math.ceil((line.widthMm / 2 + REACH_MM) / p.binMm);
  const offsets = 2 * reach + 1;
  const depths = new Float64Array(p.strips * offsets).fill(Number.NEGATIVE_INFINITY);
  for (let k = 0; k < offsets; k++) {
    const bin = place + k - reach;
    if (bin < shape.far || bin + shape.far > p.bins) continue;
    const count = readStripDepths(p, bin, shape, strips.depths);
    for (let i = 0; i < count; i++) depths[strips.depths.strip[i] * offsets + k] = strips.depths.nearer[look][i];
  }
  const shifts: StripShift[] = [];
  for (let s = 0; s < p.strips; s++) {
    const middle = centreOf(depths.subarray(s * offsets, (s + 1) * offsets));
    if (middle === null) continue;
    const alongMm = (s + 0.5 - p.strips / 2) * p.stripMm;
    shifts.push({ alongMm, shiftMm: (middle.at - reach) * p.binMm, weight: middle.depth });
  }
  return frameThrough(shifts, line.frame);
}

/** Middle of what is deeper than half the deepest, about it. */
function centreOf(depths: Float64Array): { at: number; depth: number } | null {
  const deepest = depths.indexOf(Math.max(...depths));
  const depth = depths[deepest];
  if (!(depth > 0)) return null;
  let [first, last] = [deepest, deepest];
  while (first > 0 && depths[first - 1] > depth / 2) first--;
  while (last + 1 < depths.length && depths[last + 1] > depth / 2) last++;
  let [sum, total] = [0, 0];
  for (let k = first; k <= last; k++) {
    sum += k * depths[k];
    total += depths[k];
  }
  return { at: sum / total, depth };
}
