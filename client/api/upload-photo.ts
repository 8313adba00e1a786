import { MOST_UPLOAD_MIB } from '@domain/api/photos.ts';
import { ENDPOINTS } from '@domain/api/endpoints.ts';
import { words } from '../i18n/words.ts';
import { ProblemError } from './problem-error.ts';

const BYTES_PER_MIB = 1024 * 1024;
/** Small enough that a phone at the edge of the signal gets a part through; chosen by hand. */
const PART_BYTES = 1 * BYTES_PER_MIB;
/** Waiting times after a lost signal, ms; then every minute is the person's own. */
const RETRY_AFTER_MS = [0, 1000, 2000, 4000, 8000, 15_000, 30_000, 60_000];

export interface UploadOptions {
  readonly onShare: (sentShare: number) => void;
  readonly signal: AbortSignal;
  /** What the server takes of this kind of file. */
  readonly mostMib?: number;
}

/**
 * Sends a photo by the tus protocol and answers the upload's id. An upload that broke off, even days ago in another visit,
 * goes on where it stopped. Source of the protocol: tus 1.0.0.
 */
export async function uploadPhoto(file: File, options: UploadOptions): Promise<string> {
  const { onShare, signal, mostMib = MOST_UPLOAD_MIB } = options;
  if (file.size > mostMib * BYTES_PER_MIB) {
    throw new ProblemError({ code: 'photo-too-large', detail: words.errors.fileTooLarge(mostMib) });
  }
  const { Upload } = await import('tus-js-client');
  return new Promise((resolve, reject) => {
    const upload = new Upload(file, {
      endpoint: ENDPOINTS.startUpload.path,
      chunkSize: PART_BYTES,
      retryDelays: RETRY_AFTER_MS,
      metadata: { filename: file.name },
      removeFingerprintOnSuccess: true,
      onProgress: (sent, whole) => {
        onShare(whole === 0 ? 0 : sent / whole);
      },
      onSuccess: () => {
        resolve(uploadIdOf(upload.url ?? ''));
      },
      onError: (error) => {
        reject(problemOf(error));
      },
    });
    signal.addEventListener('abort', () => void upload.abort(), { once: true });
    void upload.findPreviousUploads().then((earlier) => {
      const last = earlier.at(0);
      if (last !== undefined) upload.resumeFromPreviousUpload(last);
      if (!signal.aborted) upload.start();
    });
  });
}

export const uploadIdOf = (url: string): string => url.split(/[?#]/)[0].split('/').at(-1) ?? '';

/** tus-js-client's errors carry the answer, when there was one. */
function problemOf(error: Error): ProblemError {
  const answered = (error as { originalResponse?: { getStatus: () => number; getBody: () => string } | null })
    .originalResponse;
  if (answered === undefined || answered === null) {
    return new ProblemError({ code: 'no-signal', detail: words.errors.uploadBroke });
  }
  try {
    const { code, detail } = JSON.parse(answered.getBody()) as { code: string; detail: string };
    return new ProblemError({ code, detail, status: answered.getStatus() });
  } catch {
    const status = answered.getStatus();
    return new ProblemError({ code: 'unknown', detail: words.errors.unreadable(status), status });
  }
}
