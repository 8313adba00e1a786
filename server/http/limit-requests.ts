import { rateLimit } from 'express-rate-limit';
import type { RequestHandler } from 'express';
import { sendProblem } from './send-problem.ts';

export interface RequestLimits {
  /** From one address in a minute: deep zoom asks for hundreds of tiles. */
  readonly perMinute: number;
  /** Of those, attempts to sign in or to use a link. */
  readonly doorPerMinute: number;
}
export const USUAL_LIMITS: RequestLimits = { perMinute: 3000, doorPerMinute: 60 };

const WINDOW_MS = 60_000;

/** Keeps one caller from taking the server for itself. */
export const limitRequests = (perMinute: number): RequestHandler =>
  rateLimit({
    windowMs: WINDOW_MS,
    limit: perMinute,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    validate: false,
    handler: (request, response) => {
      const { rateLimit: taken } = request as { rateLimit?: { resetTime?: Date } };
      const resetMs = taken?.resetTime?.getTime() ?? Date.now() + WINDOW_MS;
      sendProblem(response, { code: 'requests-too-many', waitS: Math.max(1, (resetMs - Date.now()) / 1000) });
    },
  });
