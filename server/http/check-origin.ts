import type { Request } from 'express';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';

const SAFE_METHODS = new Set(['GET', 'HEAD', 'OPTIONS']);

/** The address that the caller used. */
export const originOf = (request: Request): string => `${request.protocol}://${request.host}`;

/**
 * Whatever changes something must come from the program's own pages: the browser says where from, and nobody else can make
 * it say so. A request that tells nothing is refused. Source: [OWASP-CSRF].
 */
export function checkOrigin(request: Request, publicUrl: string | undefined): Outcome<null> {
  if (SAFE_METHODS.has(request.method)) return success(null);
  const { origin } = request.headers;
  if (origin === undefined) {
    const isOwn = request.headers['sec-fetch-site'] === 'same-origin';
    return isOwn ? success(null) : failure({ code: 'origin-foreign', origin: 'nowhere' });
  }
  const isOwn = origin === publicUrl || origin === originOf(request);
  return isOwn ? success(null) : failure({ code: 'origin-foreign', origin: origin.slice(0, 200) });
}
