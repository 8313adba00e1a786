import express from 'express';
import type { Request, RequestHandler, Response, Router } from 'express';
import { ENDPOINTS } from '../domain/api/endpoints.ts';
import type { EndpointName } from '../domain/api/endpoints.ts';
import type { Endpoint } from '../domain/api/endpoint.ts';
import { assertNever, failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import type { AuditLog } from '../services/audit-log.ts';
import type { KnownSession, Sessions } from '../services/open-sessions.ts';
import type { UploadDoor } from '../services/upload-ports.ts';
import type { EventFeed, FileAnswer, Handlers } from './call.ts';
import { originOf } from './check-origin.ts';
import { actOf, refusalOf } from './audited-acts.ts';
import { checkRequest } from './check-request.ts';
import { limitRequests } from './limit-requests.ts';
import type { RequestLimits } from './limit-requests.ts';
import { sendEvents } from './send-events.ts';
import { sendFile } from './send-file.ts';
import { sendProblem } from './send-problem.ts';
import { clearSessionCookie, sessionTokenOf, setSessionCookie } from './session-cookie.ts';

export interface EndpointParts {
  readonly handlers: Handlers;
  readonly sessions: Pick<Sessions, 'recognise'>;
  readonly uploads: UploadDoor;
  readonly limits: RequestLimits;
  readonly audit: Pick<AuditLog, 'note'>;
}

/** Bodies are small, but for the strokes of a brush. */
const USUAL_BODY_BYTES = 256 * 1024;
const BODY_BYTES: Partial<Record<EndpointName, number>> = {
  addCorrection: 4 * 1024 * 1024,
  tryCorrection: 4 * 1024 * 1024,
};

/** Puts each endpoint of the table in place: who may, what is sent, what the handler says, what goes out. */
export function mountEndpoints(router: Router, parts: EndpointParts): void {
  for (const name of Object.keys(ENDPOINTS) as EndpointName[]) {
    const endpoint: Endpoint = ENDPOINTS[name];
    const steps: RequestHandler[] = [];
    if (endpoint.access === 'anybody' && endpoint.method === 'post') {
      steps.push(limitRequests(parts.limits.doorPerMinute));
    }
    steps.push(async (request, response, next) => {
      const admitting = await admit(name, request, parts);
      if (!admitting.ok) {
        sendProblem(response, admitting.fault);
        return;
      }
      response.locals['endpoint'] = name;
      response.locals['caller'] = admitting.value;
      next();
    });
    if (endpoint.body !== undefined) steps.push(...readBody(BODY_BYTES[name] ?? USUAL_BODY_BYTES));
    steps.push(endpoint.isUpload === true ? answerUpload(parts.uploads) : answerWith(name, endpoint, parts));
    router[endpoint.method](endpoint.path, ...steps);
  }
}

/** Who calls, when they may; the only place where roles are compared. */
async function admit(
  name: EndpointName,
  request: Request,
  { sessions, audit }: EndpointParts,
): Promise<Outcome<KnownSession | null>> {
  const endpoint: Endpoint = ENDPOINTS[name];
  const token = sessionTokenOf(request);
  const known = token === null ? null : await sessions.recognise(token);
  if (endpoint.access === 'anybody') return success(known);
  if (known === null) return failure({ code: 'sign-in-needed' });
  const { role } = known.person;
  if (!endpoint.access.includes(role)) {
    await audit.note(refusalOf(name, known));
    return failure({ code: 'role-lacking', role, needed: endpoint.access });
  }
  return success(known);
}

function readBody(mostBytes: number): RequestHandler[] {
  const parse = express.json({ limit: mostBytes, inflate: false });
  return [
    (request, response, next) => {
      if (request.is('application/json') === 'application/json') next();
      else sendProblem(response, { code: 'body-wrong-type', found: request.headers['content-type'] ?? 'nothing' });
    },
    parse,
  ];
}

const answerUpload =
  (uploads: UploadDoor): RequestHandler =>
  async (request, response) => {
    const caller = response.locals['caller'] as KnownSession;
    await uploads.handle(request, response, caller.person.id);
  };

/** The table pairs each handler with its own endpoint; inside here that pairing is past the compiler. */
type AnyHandler = (call: unknown) => Promise<Outcome<unknown>>;

function answerWith(name: EndpointName, endpoint: Endpoint, { handlers, audit }: EndpointParts): RequestHandler {
  const handler = (handlers as unknown as Readonly<Record<string, AnyHandler>>)[name];
  return async (request, response) => {
    const sent = { params: request.params, query: request.query, body: request.body as unknown };
    const checking = checkRequest(endpoint, sent);
    if (!checking.ok) {
      sendProblem(response, checking.fault);
      return;
    }
    const outcome = await handler({ ...checking.value, ...surroundings(request, response) });
    if (!outcome.ok) {
      sendProblem(response, outcome.fault);
      return;
    }
    const caller = response.locals['caller'] as KnownSession | null;
    const act = actOf(name, { caller, params: request.params, value: outcome.value });
    // In the log before it is answered: what a caller was told is done stands there.
    if (act !== null) await audit.note(act);
    await send(response, endpoint, outcome.value);
  };
}

const surroundings = (request: Request, response: Response): Record<string, unknown> => ({
  caller: response.locals['caller'] as unknown,
  visitor: { address: request.ip ?? 'unknown', device: request.headers['user-agent'] ?? '' },
  origin: originOf(request),
  keepSession: (opened: Parameters<typeof setSessionCookie>[2]) => {
    setSessionCookie(request, response, opened);
  },
  forgetSession: () => {
    clearSessionCookie(request, response);
  },
});

async function send(response: Response, endpoint: Endpoint, value: unknown): Promise<void> {
  const { answer } = endpoint;
  switch (answer.kind) {
    case 'json':
      response.status(endpoint.status).setHeader('Cache-Control', 'private, no-cache');
      response.json(answer.schema.parse(value));
      return;
    case 'file':
      await sendFile(response, value as FileAnswer);
      return;
    case 'events':
      await sendEvents(response, value as EventFeed<unknown>, (event) => JSON.stringify(answer.event.parse(event)));
      return;
    case 'empty':
      response.status(endpoint.status).end();
      return;
    default:
      assertNever(answer);
  }
}
