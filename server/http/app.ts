import { randomUUID } from 'node:crypto';
import express from 'express';
import type { ErrorRequestHandler, Express, RequestHandler } from 'express';
import helmet from 'helmet';
import type { Fault } from '../domain/index.ts';
import type { Log, Metrics } from '../services/observe-ports.ts';
import { checkOrigin } from './check-origin.ts';
import { limitRequests } from './limit-requests.ts';
import { mountEndpoints } from './mount-endpoints.ts';
import type { EndpointParts } from './mount-endpoints.ts';
import { describeApi } from './open-api.ts';
import { correlationIdOf, sendProblem } from './send-problem.ts';
import { watchOver } from './watch-over.ts';

export interface AppParts extends EndpointParts {
  readonly log: Log;
  readonly metrics: Metrics;
  readonly client: RequestHandler;
  readonly programVersion: string;
  readonly publicUrl: string | undefined;
  readonly trustedProxies: number;
  readonly isTls: boolean;
  /** Null when the server can take requests, else why not. */
  readonly notReadyBecause: () => Promise<string | null>;
}

export function createApp(parts: AppParts): Express {
  const app = express();
  app.disable('x-powered-by');
  app.set('trust proxy', parts.trustedProxies);
  app.set('query parser', 'simple');
  app.use(observe(parts));
  app.use(guardPages(parts.isTls));
  watchOver(app, parts);
  const api = express.Router({ caseSensitive: true, strict: true });
  api.use('/api', limitRequests(parts.limits.perMinute));
  api.use('/api', (request, response, next) => {
    const checking = checkOrigin(request, parts.publicUrl);
    if (checking.ok) next();
    else sendProblem(response, checking.fault);
  });
  const description = JSON.stringify(describeApi(parts.programVersion));
  api.get('/api/openapi.json', (_request, response) => {
    response.type('json').send(description);
  });
  mountEndpoints(api, parts);
  api.use('/api', (request, response) => {
    sendProblem(response, { code: 'not-found', noun: 'address', name: request.originalUrl.slice(0, 200) });
  });
  app.use(api);
  app.use(parts.client);
  app.use((request, response) => {
    sendProblem(response, { code: 'not-found', noun: 'page', name: request.originalUrl.slice(0, 200) });
  });
  app.use(catchFaults(parts.log));
  return app;
}

/** A number for each request, and its time in metrics and log. The address typed by a client goes into neither. */
const observe =
  ({ log, metrics }: AppParts): RequestHandler =>
  (request, response, next) => {
    const beganMs = performance.now();
    response.locals['correlationId'] = randomUUID();
    response.setHeader('X-Correlation-Id', correlationIdOf(response));
    response.once('close', () => {
      const seconds = (performance.now() - beganMs) / 1000;
      const endpoint = String(response.locals['endpoint'] ?? 'other');
      const faultCode = (response.locals['faultCode'] as string | undefined) ?? null;
      metrics.countRequest(endpoint, response.statusCode, seconds);
      if (faultCode !== null) metrics.countFault(faultCode);
      log.info('Request', {
        correlationId: correlationIdOf(response),
        method: request.method,
        endpoint,
        status: response.statusCode,
        seconds: Math.round(seconds * 1e4) / 1e4,
        fault: faultCode,
      });
    });
    next();
  };

/** Only own scripts, pictures and connections; pictures may also be made in the page. */
const guardPages = (isTls: boolean): RequestHandler =>
  helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'", "'unsafe-inline'"],
        imgSrc: ["'self'", 'blob:', 'data:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        workerSrc: ["'self'", 'blob:'],
        manifestSrc: ["'self'"],
        objectSrc: ["'none'"],
        frameSrc: ["'none'"],
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
      },
    },
    strictTransportSecurity: isTls ? { maxAge: 31_536_000, includeSubDomains: false } : false,
    referrerPolicy: { policy: 'no-referrer' },
  });

/** What was thrown: a broken body is the caller's, the rest is ours and goes to the log, never to the caller. */
const catchFaults =
  (log: Log): ErrorRequestHandler =>
  // Express tells an error handler by its four parameters.
  // eslint-disable-next-line @typescript-eslint/no-unused-vars
  (error: unknown, _request, response, _next) => {
    const fault = faultOfError(error);
    if (fault.code === 'server-failed') {
      log.error('A request failed', error, { correlationId: correlationIdOf(response) });
    }
    sendProblem(response, fault);
  };

function faultOfError(error: unknown): Fault {
  const { type, limit, code, status } = error as { type?: string; limit?: number; code?: string; status?: number };
  if (type === 'entity.too.large') return { code: 'body-too-large', mostBytes: limit ?? 0 };
  if (type === 'entity.parse.failed') {
    return { code: 'request-malformed', place: 'body', path: '', detail: 'it is not JSON' };
  }
  if (type === 'encoding.unsupported' || type === 'charset.unsupported') {
    return { code: 'body-wrong-type', found: 'another encoding' };
  }
  if (code === 'ENOSPC' || code === 'SQLITE_FULL') return { code: 'storage-full' };
  if (status === 400) {
    return { code: 'request-malformed', place: 'path', path: '', detail: 'the address cannot be read' };
  }
  return { code: 'server-failed' };
}
