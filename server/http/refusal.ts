import type { ErrorRequestHandler, RequestHandler, Response } from 'express';
import { type ErrorCode, errors, type ProblemCase, problem } from '../../shared/protocol/errors.ts';
import type { Alarm } from './parts.ts';

/** Thrown anywhere under a handler to answer with a problem from the error table. */
export class Refusal extends Error {
  readonly code: ErrorCode;
  readonly about: ProblemCase;
  /** Seconds, for the Retry-After header. */
  readonly retryAfter: number | undefined;

  constructor(code: ErrorCode, about: ProblemCase & { readonly retryAfter?: number }) {
    super(about.detail);
    this.name = 'Refusal';
    const { retryAfter, ...rest } = about;
    this.code = code;
    this.about = rest;
    this.retryAfter = retryAfter;
  }
}

function sendProblem(res: Response, { code, about, retryAfter }: Refusal): void {
  if (retryAfter !== undefined) res.set('Retry-After', String(retryAfter));
  res
    .status(errors[code].status)
    .type('application/problem+json')
    .send(JSON.stringify(problem(code, about)));
}

/** Last but one: nobody took the request. */
export const nothingHere: RequestHandler = (req) => {
  throw new Refusal('not-found', { detail: `no ${req.method} ${req.path} here` });
};

/** Last: every error leaves as a problem, and only a fault of ours is told to the operator. */
export function answerErrors(alarm: Alarm): ErrorRequestHandler {
  return (error: unknown, req, res, next) => {
    if (res.headersSent) return next(error);
    const refusal = asRefusal(error);
    if (refusal) return sendProblem(res, refusal);
    alarm(error, `${req.method} ${req.path}`);
    sendProblem(res, new Refusal('internal', { detail: 'the fault is in the server and has been logged' }));
  };
}

function asRefusal(error: unknown): Refusal | undefined {
  if (error instanceof Refusal) return error;
  // What Express and its body reader refuse by themselves.
  const { type, status } = Object(error) as { type?: unknown; status?: unknown };
  if (type === 'entity.parse.failed') return new Refusal('bad-json', { detail: 'the body could not be parsed' });
  if (type === 'entity.too.large')
    return new Refusal('too-large', { detail: 'the body is too large', expected: limitOf(error) });
  if (status === 415) return new Refusal('unsupported-type', { detail: 'the body is encoded in a way not read here' });
  if (typeof status === 'number' && status >= 400 && status < 500) {
    return new Refusal('bad-request', { detail: 'the request could not be read' });
  }
  return undefined;
}

function limitOf(error: unknown): string {
  const { limit } = Object(error) as { limit?: unknown };
  return `at most ${String(limit)} bytes`;
}
