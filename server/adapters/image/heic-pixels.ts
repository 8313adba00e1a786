import { Worker } from 'node:worker_threads';
import { failure, success, type Outcome } from '../../domain/index.ts';
import { faultOfDecodeError } from './decode-fault.ts';
import { dropOpaqueAlpha } from './opaque-rgb.ts';
import type { RgbCodes } from './rgb-codes.ts';

/** Chosen here: a slow machine needs about 20 s for 80 megapixels; beyond this the decoder is taken to hang. */
const LONGEST_DECODE_MS = 120_000;
const WORKER = new URL('./heic-worker.mjs', import.meta.url);

interface DecodedPicture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray<ArrayBuffer>;
}

/** Decodes HEIC to upright codes; rotation and mirroring boxes are applied by the decoder, the colour box is not. */
export async function decodeHeic(file: Uint8Array, pictureIndex: number): Promise<Outcome<RgbCodes>> {
  try {
    const { width, height, data } = await decodeOnThread(file, pictureIndex);
    const rgb = dropOpaqueAlpha(new Uint8Array(data.buffer, data.byteOffset, data.byteLength));
    return rgb.ok ? success({ width, height, pixels: rgb.value }) : rgb;
  } catch (error) {
    return failure(faultOfDecodeError(error));
  }
}

async function decodeOnThread(file: Uint8Array, pictureIndex: number): Promise<DecodedPicture> {
  // stdout and stderr are taken away from the decoder, which reports damage there.
  const worker = new Worker(WORKER, { workerData: { file, pictureIndex }, execArgv: [], stdout: true, stderr: true });
  let timer: NodeJS.Timeout | undefined;
  try {
    return await new Promise<DecodedPicture>((resolve, reject) => {
      worker.once('message', resolve);
      worker.once('error', reject);
      worker.once('exit', () => {
        reject(new Error('the decoder stopped without a picture'));
      });
      timer = setTimeout(() => {
        reject(new Error(`the decoder took longer than ${LONGEST_DECODE_MS / 1000} s`));
      }, LONGEST_DECODE_MS);
    });
  } finally {
    clearTimeout(timer);
    await worker.terminate();
  }
}
