import type { Problem } from '@domain/api/problem.ts';

/** A call that was answered with a problem, or not at all. The message is a sentence for the person at the screen. */
export class ProblemError extends Error {
  /** Fault code of the server; 'no-signal' when nothing came back. */
  readonly code: string;
  /** HTTP status; null when nothing came back. */
  readonly status: number | null;
  readonly correlationId: string | null;

  constructor(problem: Pick<Problem, 'code' | 'detail'> & Partial<Pick<Problem, 'status' | 'correlationId'>>) {
    super(problem.detail);
    this.code = problem.code;
    this.status = problem.status ?? null;
    this.correlationId = problem.correlationId ?? null;
  }

  get isSignInNeeded(): boolean {
    return this.status === 401;
  }
}

/** Whether trying the same call again may help. */
export const isWorthRetrying = (error: unknown): boolean =>
  error instanceof ProblemError && (error.status === null || error.status >= 502);
