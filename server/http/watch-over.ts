import type { Express, Request } from 'express';
import type { Metrics } from '../services/observe-ports.ts';

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);
const isNear = (request: Request): boolean => LOOPBACK.has(request.ip ?? '');

/** Pages for whoever watches the server: alive, ready, numbers. The numbers are told on the machine itself only. */
export function watchOver(
  app: Express,
  { metrics, notReadyBecause }: { metrics: Metrics; notReadyBecause: () => Promise<string | null> },
): void {
  app.get('/healthz', (_request, response) => {
    response.json({ status: 'ok', because: null });
  });
  app.get('/readyz', async (_request, response) => {
    const because = await notReadyBecause();
    response.status(because === null ? 200 : 503).json({ status: because === null ? 'ok' : 'not ready', because });
  });
  app.get('/metrics', async (request, response, next) => {
    if (isNear(request)) response.type(metrics.mediaType).send(await metrics.text());
    else next();
  });
}
