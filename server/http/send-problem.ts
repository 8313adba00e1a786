import type { Response } from 'express';
import type { Problem } from '../domain/api/problem.ts';
import { PROBLEM_MEDIA_TYPE } from '../domain/api/problem.ts';
import { faultHttpStatus, faultSentence } from '../domain/index.ts';
import type { Fault } from '../domain/index.ts';

/** Answers with what is wrong: never a stack, always a number that the log knows too. Source: [RFC9457]. */
export function sendProblem(response: Response, fault: Fault): void {
  if (response.headersSent) {
    response.destroy();
    return;
  }
  const { code, ...numbers } = fault;
  const status = faultHttpStatus(fault);
  const problem: Problem = {
    type: 'about:blank',
    title: code,
    status,
    detail: faultSentence(fault),
    code,
    numbers,
    correlationId: correlationIdOf(response),
  };
  if ('waitS' in numbers) response.setHeader('Retry-After', String(Math.ceil(numbers.waitS)));
  response.locals['faultCode'] = code;
  response.status(status).type(PROBLEM_MEDIA_TYPE).setHeader('Cache-Control', 'no-store');
  response.send(JSON.stringify(problem));
}

export const correlationIdOf = (response: Response): string => String(response.locals['correlationId'] ?? 'none');
