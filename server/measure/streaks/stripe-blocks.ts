import type { StreakSignal } from './streak-signal.ts';

/** Wave vector per mm on the raster; it points across the stripes. */
export interface WaveVector {
  readonly kx: number;
  readonly ky: number;
}

/** Complex amplitude of one wave in cells of a raster turned along the stripes: rows lie across, columns along them. */
export interface StripeBlocks {
  readonly wave: WaveVector;
  /** Cells along the stripes and across them. */
  readonly alongCount: number;
  readonly acrossCount: number;
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Usable pixels per cell. */
  readonly weight: Float64Array;
  /** Amplitude of the wave in the colour direction that carries it, dE00: the stripes swing by this about their mean. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Share of the wave's energy carried by lightness and by chroma: unit vector; relative sign as seen. */
  readonly colour: readonly [lightness: number, chroma: number];
}

export interface BlockSize {
  readonly alongMm: number;
  readonly acrossMm: number;
}

/** Cells with less than this share of usable area tell nothing. */
const LEAST_FILL = 0.3;

export function stripeBlocks(signal: StreakSignal, wave: WaveVector, size: BlockSize): StripeBlocks {
  const { stepMm } = signal;
  const length = Math.hypot(wave.kx, wave.ky);
  const [nx, ny] = [wave.kx / length, wave.ky / length];
  const corners = [
    [0, 0],
    [signal.width * stepMm, 0],
    [0, signal.height * stepMm],
    [signal.width * stepMm, signal.height * stepMm],
  ];
  const range = (f: (x: number, y: number) => number): [number, number] => {
    const values = corners.map(([x, y]) => f(x, y));
    return [Math.min(...values), Math.max(...values)];
  };
  const [across0, across1] = range((x, y) => x * nx + y * ny);
  const [along0, along1] = range((x, y) => x * ny - y * nx);
  const frame: Frame = {
    nx,
    ny,
    along0,
    across0,
    alongCount: Math.max(1, Math.round((along1 - along0) / size.alongMm)),
    acrossCount: Math.max(1, Math.round((across1 - across0) / size.acrossMm)),
    alongMm: 0,
    acrossMm: 0,
  };
  frame.alongMm = (along1 - along0) / frame.alongCount;
  frame.acrossMm = (across1 - across0) / frame.acrossCount;
  const sums = sumBlocks(signal, wave, frame);
  return combineChannels(wave, frame, sums, stepMm);
}

interface Frame {
  nx: number;
  ny: number;
  along0: number;
  across0: number;
  alongCount: number;
  acrossCount: number;
  alongMm: number;
  acrossMm: number;
}

/** Per cell: weight, wave of the weight, and of both signals their sum and their wave. */
type Sums = Readonly<Record<'n' | 'er' | 'ei' | 'l' | 'lr' | 'li' | 'c' | 'cr' | 'ci', Float64Array>>;

function sumBlocks(signal: StreakSignal, wave: WaveVector, frame: Frame): Sums {
  const count = frame.alongCount * frame.acrossCount;
  const cells = (): Float64Array => new Float64Array(count);
  const s: Sums = {
    n: cells(),
    er: cells(),
    ei: cells(),
    l: cells(),
    lr: cells(),
    li: cells(),
    c: cells(),
    cr: cells(),
    ci: cells(),
  };
  const { width, height, stepMm, weight, lightness, chroma } = signal;
  const turn = 2 * Math.PI * stepMm;
  const [stepRe, stepIm] = [Math.cos(turn * wave.kx), -Math.sin(turn * wave.kx)];
  const { nx, ny, along0, across0, alongMm, acrossMm, alongCount, acrossCount } = frame;
  for (let y = 0, i = 0; y < height; y++) {
    const py = (y + 0.5) * stepMm;
    const start = turn * (0.5 * wave.kx + (y + 0.5) * wave.ky);
    let re = Math.cos(start);
    let im = -Math.sin(start);
    for (let x = 0; x < width; x++, i++) {
      const w = weight[i];
      if (w > 0) {
        const px = (x + 0.5) * stepMm;
        const row = Math.min(alongCount - 1, ((px * ny - py * nx - along0) / alongMm) | 0);
        const column = Math.min(acrossCount - 1, ((px * nx + py * ny - across0) / acrossMm) | 0);
        const cell = row * acrossCount + column;
        const [wr, wi] = [w * re, w * im];
        s.n[cell] += w;
        s.er[cell] += wr;
        s.ei[cell] += wi;
        s.l[cell] += w * lightness[i];
        s.lr[cell] += wr * lightness[i];
        s.li[cell] += wi * lightness[i];
        s.c[cell] += w * chroma[i];
        s.cr[cell] += wr * chroma[i];
        s.ci[cell] += wi * chroma[i];
      }
      const held = re * stepRe - im * stepIm;
      im = re * stepIm + im * stepRe;
      re = held;
    }
  }
  return s;
}

function combineChannels(wave: WaveVector, frame: Frame, s: Sums, stepMm: number): StripeBlocks {
  const { alongCount, acrossCount, alongMm, acrossMm } = frame;
  const least = (LEAST_FILL * alongMm * acrossMm) / (stepMm * stepMm);
  const count = s.n.length;
  let [ll, lc, cc] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    if (s.n[i] < least) {
      for (const part of [s.n, s.lr, s.li, s.cr, s.ci]) part[i] = 0;
      continue;
    }
    // A cell's own mean would leak into the wave where the cell does not hold whole periods.
    s.lr[i] -= (s.l[i] / s.n[i]) * s.er[i];
    s.li[i] -= (s.l[i] / s.n[i]) * s.ei[i];
    s.cr[i] -= (s.c[i] / s.n[i]) * s.er[i];
    s.ci[i] -= (s.c[i] / s.n[i]) * s.ei[i];
    ll += (s.lr[i] ** 2 + s.li[i] ** 2) / s.n[i];
    lc += (s.lr[i] * s.cr[i] + s.li[i] * s.ci[i]) / s.n[i];
    cc += (s.cr[i] ** 2 + s.ci[i] ** 2) / s.n[i];
  }
  const turn = 0.5 * Math.atan2(2 * lc, ll - cc);
  const colour = [Math.cos(turn), Math.sin(turn)] as const;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    if (s.n[i] === 0) continue;
    re[i] = (2 * (colour[0] * s.lr[i] + colour[1] * s.cr[i])) / s.n[i];
    im[i] = (2 * (colour[0] * s.li[i] + colour[1] * s.ci[i])) / s.n[i];
  }
  return { wave, alongCount, acrossCount, alongMm, acrossMm, weight: s.n, re, im, colour };
}
