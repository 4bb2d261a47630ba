import type { Request, RequestHandler } from 'express';
import { routeOf } from '../../shared/protocol/routes.ts';
import { requestLimit } from '../auth/requestLimit.ts';
import type { SignedIn } from '../auth/sessions.ts';
import { tokens } from '../auth/tokens.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** Who sends a request: a browser with a session, or a script with a token for one project. */
export interface Requester extends SignedIn {
  /** The only project a script may touch; undefined for a person. */
  readonly onlyProject?: string;
}

const known = new WeakMap<Request, Requester | null>();

/** Who sends it, as found out by {@link identify}; undefined: nobody. */
export function requesterOf(req: Request): Requester | undefined {
  return known.get(req) ?? undefined;
}

/** True for what came with a token: cookies beside it count for nothing. */
export function isBearer(req: Request): boolean {
  return req.headers.authorization !== undefined;
}

type Parts = Pick<HttpParts, 'auth' | 'records' | 'clock' | 'random' | 'config'>;

/** Finds out who sends a request, once, holds a token against its scopes, and counts. Before everything below /api. */
export function identify(parts: Parts): RequestHandler {
  const limit = requestLimit(parts.config.requestsPerMinute);
  const keys = tokens(parts.records, parts.clock, parts.random);
  return async (req, _res, next) => {
    const route = routeOf(req.method, `${req.baseUrl}${req.path}`);
    const requester = isBearer(req) ? await bearer(keys, req, route) : await parts.auth.readSession(req.headers.cookie);
    known.set(req, requester ?? null);
    const wait = requester && (await limit.count(requester.account.id, route?.light === true));
    if (wait !== undefined)
      throw new Refusal('too-many', {
        detail: `that were too many requests; wait ${wait} s`,
        expected: `at most ${parts.config.requestsPerMinute} requests a minute`,
        retryAfter: wait,
      });
    next();
  };
}

async function bearer(
  keys: ReturnType<typeof tokens>,
  req: Request,
  route: ReturnType<typeof routeOf>,
): Promise<Requester> {
  const [, text = ''] = /^Bearer +(\S+)$/i.exec(req.headers.authorization ?? '') ?? [];
  const found = await keys.read(text);
  if (!found)
    throw new Refusal('bad-token', {
      detail: 'it is unknown, was revoked or has run out; make a new one in the job, under Keys',
      expected: 'Authorization: Bearer sj_...',
    });
  const { token, account } = found;
  // What the table does not open to tokens is shut to them: signing above all.
  if (!route?.scope)
    throw new Refusal('token-scope', {
      detail: `${req.method} ${req.baseUrl}${req.path} is not for scripts`,
      expected: 'a person who is signed in',
      came: 'a token',
    });
  if (!token.scopes.includes(route.scope))
    throw new Refusal('token-scope', {
      detail: 'make a token with that scope, or do without',
      expected: `the scope ${route.scope}`,
      came: token.scopes.join(', '),
    });
  return { account, sessionId: `token ${token.id}`, onlyProject: token.projectId };
}
