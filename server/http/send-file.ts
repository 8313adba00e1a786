import type { Response } from 'express';
import { pipeline } from 'node:stream/promises';
import type { FileAnswer } from './call.ts';

const A_YEAR_S = 31_536_000;

export async function sendFile(response: Response, answer: FileAnswer): Promise<void> {
  response.setHeader('Content-Type', answer.mediaType);
  response.setHeader(
    'Cache-Control',
    answer.isImmutable ? `private, max-age=${A_YEAR_S}, immutable` : 'private, no-cache',
  );
  if (answer.fileName !== undefined) response.attachment(answer.fileName).setHeader('Content-Type', answer.mediaType);
  if (answer.body instanceof Uint8Array) {
    response.send(Buffer.from(answer.body.buffer, answer.body.byteOffset, answer.body.byteLength));
    return;
  }
  if (answer.sizeBytes !== undefined) response.setHeader('Content-Length', answer.sizeBytes);
  if (response.req.method === 'HEAD') {
    answer.body.destroy();
    response.end();
    return;
  }
  await pipeline(answer.body, response);
}
