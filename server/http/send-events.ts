import type { Response } from 'express';
import type { Outcome } from '../domain/index.ts';
import type { EventFeed } from './call.ts';
import { sendProblem } from './send-problem.ts';

/** Keeps proxies from closing a quiet stream (common practice). */
const SIGN_OF_LIFE_MS = 15_000;

/**
 * Sends a feed as server-sent events until its last event, or until the caller goes. Source: [HTML-SSE].
 * @param write turns an event into checked JSON
 */
export async function sendEvents(
  response: Response,
  feed: EventFeed<unknown>,
  write: (event: unknown) => string,
): Promise<void> {
  const first = await feed.read();
  if (!first.ok) {
    sendProblem(response, first.fault);
    return;
  }
  response.writeHead(200, {
    'Content-Type': 'text/event-stream',
    'Cache-Control': 'no-store',
    'X-Accel-Buffering': 'no',
  });
  await new Promise<void>((resolve) => {
    const send = (reading: Outcome<unknown>): void => {
      if (reading.ok) response.write(`event: ${feed.name}\ndata: ${write(reading.value)}\n\n`);
      if (!reading.ok || feed.isLast(reading.value)) end();
    };
    let reading = Promise.resolve();
    const onChange = (): void => {
      reading = reading.then(async () => {
        if (!response.writableEnded) send(await feed.read());
      }, end);
    };
    const stopFollowing = feed.follow(onChange);
    const timer = setInterval(() => response.write(': still here\n\n'), SIGN_OF_LIFE_MS);
    const end = (): void => {
      clearInterval(timer);
      stopFollowing();
      if (!response.writableEnded) response.end();
      resolve();
    };
    response.once('close', end);
    send(first);
    // What happened between the first reading and the following is caught up on.
    if (!response.writableEnded) onChange();
  });
}
