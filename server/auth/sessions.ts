import { type Clock, isoTime, type Random } from '../ambient.ts';
import type { Account, Records } from '../storage/ports.ts';
import { SESSION_LIFE, type SessionCookie, tokenHash } from './cookies.ts';

const IDLE = 12 * 3_600_000;
/** "Last seen" is written at most this often: a write per request would buy nothing. */
const TOUCH = 60_000;

export interface SignedIn {
  readonly account: Account;
  /** Names the session to onSessionEnd; it is not the cookie's value and signs nobody in. */
  readonly sessionId: string;
}

export interface Sessions {
  /** Returns the Set-Cookie value. */
  start(accountId: string): Promise<string>;
  read(cookieHeader: string | undefined): Promise<SignedIn | undefined>;
  /** Returns the Set-Cookie value that clears it; does nothing else if there is no session. */
  end(cookieHeader: string | undefined): Promise<string>;
  onEnd(listener: (sessionId: string) => void): () => void;
  sweep(): Promise<number>;
}

export interface SessionParts {
  readonly records: Records;
  readonly clock: Clock;
  readonly random: Random;
  readonly cookie: SessionCookie;
}

export function sessions({ records, clock, random, cookie }: SessionParts): Sessions {
  const listeners = new Set<(sessionId: string) => void>();
  const remove = async (id: string) => {
    await records.removeSession(id);
    for (const listener of listeners) listener(id);
  };
  return {
    start: async (accountId) => {
      const token = Buffer.from(random(32)).toString('base64url');
      const at = clock();
      const createdAt = isoTime(at);
      const expiresAt = isoTime(at + SESSION_LIFE);
      await records.addSession({ id: tokenHash(token), accountId, createdAt, lastSeenAt: createdAt, expiresAt });
      return cookie.set(token);
    },
    read: (cookieHeader) => readSession({ records, clock, random, cookie }, cookieHeader, remove),
    end: async (cookieHeader) => {
      const token = cookie.read(cookieHeader);
      if (token !== undefined) await remove(tokenHash(token));
      return cookie.clear();
    },
    onEnd: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    sweep: () => records.removeEndedSessions(isoTime(clock()), isoTime(clock() - IDLE)),
  };
}

async function readSession(
  { records, clock, cookie }: SessionParts,
  cookieHeader: string | undefined,
  remove: (id: string) => Promise<void>,
): Promise<SignedIn | undefined> {
  const token = cookie.read(cookieHeader);
  const session = token === undefined ? undefined : await records.session(tokenHash(token));
  if (!session) return undefined;
  const idle = clock() - Date.parse(session.lastSeenAt);
  if (isoTime(clock()) >= session.expiresAt || idle > IDLE) {
    await remove(session.id);
    return undefined;
  }
  const account = await records.account(session.accountId);
  if (idle > TOUCH) await records.touchSession(session.id, isoTime(clock()));
  return account && { account, sessionId: session.id };
}
