import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import type { Plane } from '../raster/plane.ts';
import { reducePlane } from '../raster/reduce-plane.ts';
import { wholeLogits } from './class-network.ts';
import type { ClassLogits, ClassNetwork } from './class-network.ts';

/** Photos of unknown scale are looked at this coarsely, px of the long side: as those that the network learnt from. */
const LONG_SIDE_PX = 512;
/**
 * Without a card nobody knows the scale, so two readings are asked for: far away, as the photos of structures were that
 * taught what rust looks like (step 1 mm), and close up, as the plates were that taught the other classes (step 0.4 mm).
 */
const FAR_MM = 1;
const NEAR_MM = 0.4;
/** Part of the far reading in the probability of rust. Held-out bridge photos and the coupon photos agree with it. */
const FAR_PART = 0.75;
const CLASSES = 6;
const RUST = 3;
const LEAST = 1e-6;

/** Class evidence for a raster whose scale and light are unknown: the far reading says rust or not, the near one which rest. */
export async function classifyAtUnknownScale(
  network: ClassNetwork,
  lab: LabPlanes,
): Promise<Outcome<{ network: string; logits: ClassLogits }>> {
  const { width, height } = lab.L;
  const factor = Math.max(1, Math.max(width, height) / LONG_SIDE_PX);
  const small = reduceLab(lab, factor);
  const far = await wholeLogits(network, small, { stepMm: FAR_MM, isColourNormalised: false });
  if (!far.ok) return far;
  const farMirrored = await wholeLogits(network, mirrorLab(small), { stepMm: FAR_MM, isColourNormalised: false });
  if (!farMirrored.ok) return farMirrored;
  const near = await wholeLogits(network, small, { stepMm: NEAR_MM, isColourNormalised: false });
  if (!near.ok) return near;
  const farRust = softmax(far.value.logits)[RUST];
  const mirroredRust = mirrorValues(softmax(farMirrored.value.logits)[RUST], small.L.width);
  const rest = softmax(near.value.logits);
  const planes = Array.from({ length: CLASSES }, () => new Float32Array(farRust.length));
  for (let i = 0; i < farRust.length; i++) {
    const nearRust = rest[RUST][i];
    const rust = (FAR_PART * (farRust[i] + mirroredRust[i])) / 2 + (1 - FAR_PART) * nearRust;
    const scale = (1 - rust) / Math.max(LEAST, 1 - nearRust);
    for (let k = 0; k < CLASSES; k++) planes[k][i] = Math.log(Math.max(LEAST, k === RUST ? rust : rest[k][i] * scale));
  }
  return success({
    network: near.value.network,
    logits: { width, height, planes: planes.map((p) => enlarge(p, small.L, { width, height, factor })) },
  });
}

function reduceLab(lab: LabPlanes, factor: number): LabPlanes {
  if (factor === 1) return lab;
  const reduce = (from: Plane): Plane => reducePlane(from, factor);
  return { L: reduce(lab.L), a: reduce(lab.a), b: reduce(lab.b) };
}

const mirrorLab = ({ L, a, b }: LabPlanes): LabPlanes => {
  const mirror = (p: Plane): Plane => ({ ...p, values: mirrorValues(p.values, p.width) });
  return { L: mirror(L), a: mirror(a), b: mirror(b) };
};

function mirrorValues(values: Float32Array, width: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let i = 0; i < values.length; i++) out[i] = values[i - (i % width) + width - 1 - (i % width)];
  return out;
}

function softmax({ planes }: ClassLogits): Float32Array[] {
  const out = planes.map((p) => new Float32Array(p.length));
  for (let i = 0; i < planes[0].length; i++) {
    let top = -Infinity;
    for (const p of planes) top = Math.max(top, p[i]);
    let sum = 0;
    for (let k = 0; k < planes.length; k++) sum += out[k][i] = Math.exp(planes[k][i] - top);
    for (const p of out) p[i] /= sum;
  }
  return out;
}

interface Enlargement {
  readonly width: number;
  readonly height: number;
  readonly factor: number;
}

/** Linear interpolation between the middles of the coarse cells. */
function enlarge(values: Float32Array, size: { width: number; height: number }, to: Enlargement): Float32Array {
  if (to.factor === 1) return values;
  const out = new Float32Array(to.width * to.height);
  for (let y = 0, i = 0; y < to.height; y++) {
    const v = Math.min(size.height - 1, Math.max(0, (y + 0.5) / to.factor - 0.5));
    const above = Math.floor(v);
    const below = Math.min(size.height - 1, above + 1);
    for (let x = 0; x < to.width; x++, i++) {
      const u = Math.min(size.width - 1, Math.max(0, (x + 0.5) / to.factor - 0.5));
      const left = Math.floor(u);
      const right = Math.min(size.width - 1, left + 1);
      const upper = mix(values[above * size.width + left], values[above * size.width + right], u - left);
      const lower = mix(values[below * size.width + left], values[below * size.width + right], u - left);
      out[i] = mix(upper, lower, v - above);
    }
  }
  return out;
}

const mix = (from: number, to: number, part: number): number => from + (to - from) * part;
