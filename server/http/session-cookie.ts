import type { Request, Response } from 'express';
import type { OpenedSession } from '../services/open-sessions.ts';

/**
 * The prefix binds the cookie to this host and to TLS; without TLS, on a shop network, browsers refuse it.
 * Source: [RFC6265BIS].
 */
const nameFor = (request: Request): string => (request.secure ? '__Host-bareplate' : 'bareplate');

/** The session token that a browser sends; null without one. */
export function sessionTokenOf(request: Request): string | null {
  const name = nameFor(request);
  for (const pair of (request.headers.cookie ?? '').split(';')) {
    const at = pair.indexOf('=');
    if (at > 0 && pair.slice(0, at).trim() === name) return pair.slice(at + 1).trim();
  }
  return null;
}

export function setSessionCookie(request: Request, response: Response, opened: OpenedSession): void {
  response.cookie(nameFor(request), opened.token, { ...attributes(request), expires: new Date(opened.expiresAtMs) });
}

export function clearSessionCookie(request: Request, response: Response): void {
  response.clearCookie(nameFor(request), attributes(request));
}

const attributes = (request: Request): { httpOnly: true; sameSite: 'strict'; path: '/'; secure: boolean } => ({
  httpOnly: true,
  sameSite: 'strict',
  path: '/',
  secure: request.secure,
});
