import { CLASS_CODE, SURFACE_CLASSES } from '../../../server/domain/index.ts';
import type { Segmentation } from '../../../server/measure/segmentation/segmentation.ts';

const CODES = 6;
const BINS = 20;
/** The orange date stamp of the bridge photos, as parts of their sides: nothing is judged there. */
const STAMP = { left: 350 / 512, right: 500 / 512, top: 455 / 512, bottom: 500 / 512 } as const;

/** Gathers how a segmenter did on scenes with exact masks and on photos that only say rust or not. */
export class Scores {
  readonly #confusion = new Float64Array(CODES * CODES);
  readonly #binHits = new Float64Array(BINS);
  readonly #binSums = new Float64Array(BINS);
  readonly #binCounts = new Float64Array(BINS);
  readonly #residueErrors: number[] = [];
  #truePositive = 0;
  #falsePositive = 0;
  #falseNegative = 0;

  addScene(truth: Uint8Array, told: Segmentation): void {
    let measured = 0;
    let difference = 0;
    for (let i = 0; i < truth.length; i++) {
      const code = told.codes.values[i];
      if (truth[i] === 0) continue;
      this.#confusion[truth[i] * CODES + code]++;
      if (code === 0) continue;
      measured++;
      difference += Number(code >= CLASS_CODE.rust) - Number(truth[i] >= CLASS_CODE.rust);
      const confidence = told.probabilities[code - 1][i] / 255;
      const bin = Math.min(BINS - 1, Math.floor(confidence * BINS));
      this.#binCounts[bin]++;
      this.#binSums[bin] += confidence;
      if (code === truth[i]) this.#binHits[bin]++;
    }
    if (measured > 0) this.#residueErrors.push(difference / measured);
  }

  addRust(codes: Uint8Array, mask: Uint8Array, size: { width: number; height: number }): void {
    for (let i = 0; i < mask.length; i++) {
      const x = (i % size.width) / size.width;
      const y = Math.floor(i / size.width) / size.height;
      if (x >= STAMP.left && x < STAMP.right && y >= STAMP.top && y < STAMP.bottom) continue;
      const isTold = codes[i] === CLASS_CODE.rust;
      if (isTold && mask[i] > 0) this.#truePositive++;
      else if (isTold) this.#falsePositive++;
      else if (mask[i] > 0) this.#falseNegative++;
    }
  }

  summary(): object {
    const at = (truth: number, told: number): number => this.#confusion[truth * CODES + told];
    const codes = SURFACE_CLASSES.map((name) => CLASS_CODE[name]);
    const row = (truth: number): number => codes.reduce((sum, told) => sum + at(truth, told), 0);
    const column = (told: number): number => codes.reduce((sum, truth) => sum + at(truth, told), 0);
    const iou = codes.map((k) => at(k, k) / Math.max(1, row(k) + column(k) - at(k, k)));
    const mixed = at(CLASS_CODE.scale, CLASS_CODE.rust) + at(CLASS_CODE.rust, CLASS_CODE.scale);
    const total = this.#binCounts.reduce((sum, n) => sum + n, 0);
    const calibration =
      this.#binCounts.reduce((sum, _, b) => sum + Math.abs(this.#binSums[b] - this.#binHits[b]), 0) / total;
    const sorted = this.#residueErrors.map(Math.abs).sort((a, b) => a - b);
    const hits = this.#truePositive;
    const wrong = this.#falsePositive + this.#falseNegative;
    return {
      iou: Object.fromEntries(SURFACE_CLASSES.map((name, k) => [name, digits(iou[k])])),
      meanIou: digits(iou.reduce((sum, v) => sum + v, 0) / iou.length),
      scaleRustConfusion: digits(mixed / Math.max(1, row(CLASS_CODE.scale) + row(CLASS_CODE.rust))),
      residueBias: digits(this.#residueErrors.reduce((sum, e) => sum + e, 0) / this.#residueErrors.length),
      residueErrorMedian: digits(sorted[Math.floor(sorted.length / 2)]),
      residueErrorP95: digits(sorted[Math.ceil(0.95 * sorted.length) - 1]),
      expectedCalibrationError: digits(calibration),
      confusion: codes.map((truth) => [0, ...codes].map((told) => at(truth, told))),
      bridge:
        hits + wrong === 0
          ? null
          : { rustIou: digits(hits / (hits + wrong)), rustF1: digits((2 * hits) / (2 * hits + wrong)) },
    };
  }
}

const digits = (value: number): number => Number(value.toFixed(4));
