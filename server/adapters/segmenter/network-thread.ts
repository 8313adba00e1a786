import { Worker } from 'node:worker_threads';
import type { InferenceSession } from 'onnxruntime-node';
import { CHANNELS } from './folded-tiles.ts';

/** One tile for the network. */
export interface TileTask {
  /** Three planes of Lab, then room for the answer; see `roomLength`. It goes to the thread and comes back. */
  readonly room: Float32Array<ArrayBuffer>;
  /** px, multiples of 32. */
  readonly width: number;
  readonly height: number;
  readonly condition: Float32Array;
}

/** A network in a thread of its own: while it tells one tile, its caller can read the last and do other work. */
export interface NetworkThread {
  /** Tasks are done one after another. @returns the room of the task, with the answer in it; rejects once the thread has failed */
  tell(task: TileTask): Promise<Float32Array<ArrayBuffer>>;
}

/** Values that a task's room holds. */
export const roomLength = (pixels: number): number => (3 + CHANNELS / 4) * pixels;
/** The part of a room that holds the answer. */
export const answerIn = (room: Float32Array, pixels: number): Float32Array => room.subarray(3 * pixels);

/**
 * Threads that wait idle instead of spinning leave the cores to the other work of the machine, and to decoding. Work is dealt
 * out in ever smaller pieces, so that neither core waits long for the other.
 */
const SESSION: InferenceSession.SessionOptions = {
  graphOptimizationLevel: 'all',
  extra: { session: { dynamic_block_base: '4', intra_op: { allow_spinning: '0' } } },
};

/**
 * @param model bytes of an ONNX file
 * @param onFailed called once the thread has failed, before what waits for it is rejected
 */
export function startNetworkThread(model: Uint8Array, onFailed: () => void): NetworkThread {
  const worker = new Worker(new URL('network-thread.mjs', import.meta.url), {
    workerData: { model, channels: CHANNELS, options: SESSION },
    execArgv: [],
  });
  const waiting: { resolve: (room: Float32Array<ArrayBuffer>) => void; reject: (reason: Error) => void }[] = [];
  let failed: Error | null = null;
  // It keeps the process alive while something waits for it, and no longer.
  worker.unref();
  worker.on('message', (room: Float32Array<ArrayBuffer>) => {
    waiting.shift()?.resolve(room);
    if (waiting.length === 0) worker.unref();
  });
  worker.on('error', (error) => {
    failed = error;
    onFailed();
    waiting.splice(0).forEach(({ reject }) => {
      reject(error);
    });
  });
  return {
    tell(task) {
      if (failed !== null) return Promise.reject(failed);
      return new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        worker.ref();
        worker.postMessage(task, [task.room.buffer]);
      });
    },
  };
}
