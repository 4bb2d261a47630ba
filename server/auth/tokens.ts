import { type TokenScope, tokenLife, tokenMark } from '../../shared/protocol/tokens.ts';
import { type Clock, isoTime, type Random } from '../ambient.ts';
import type { Account, Records } from '../storage/ports.ts';
import type { ApiToken } from '../storage/tokens.ts';
import { tokenHash } from './cookies.ts';

/** "Last used" is written at most this often, ms. */
const TOUCH = 60_000;

/** What a token is made for. */
export interface TokenWish {
  readonly projectId: string;
  readonly account: Account;
  readonly name: string;
  readonly scopes: readonly TokenScope[];
  /** ISO 8601 in UTC. */
  readonly expiresAt: string;
}

export interface Tokens {
  /** The text goes to whoever asked and is never to be had again. `bad-end`: the end is past, or more than a year away. */
  make(wish: TokenWish): Promise<{ readonly token: ApiToken; readonly text: string } | 'bad-end'>;
  /** Whose it is; undefined for what is no token, was revoked or has run out. */
  read(text: string): Promise<{ readonly token: ApiToken; readonly account: Account } | undefined>;
}

/** Keys for scripts: 256 random bits, kept only as a hash, bound to one project. */
export function tokens(records: Records, clock: Clock, random: Random): Tokens {
  return {
    make: async ({ projectId, account, name, scopes, expiresAt: end }) => {
      const now = clock();
      const until = Date.parse(end);
      if (!(until > now) || until > now + tokenLife) return 'bad-end';
      const text = `${tokenMark}${Buffer.from(random(32)).toString('base64url')}`;
      const times = { createdAt: isoTime(now), expiresAt: isoTime(until), lastUsedAt: null, revokedAt: null };
      const token = { id: tokenHash(text), projectId, accountId: account.id, name, scopes, ...times };
      await records.addToken(token);
      return { token, text };
    },
    read: async (text) => {
      if (!/^sj_[\w-]{43}$/.test(text)) return undefined;
      const token = await records.token(tokenHash(text));
      const now = isoTime(clock());
      if (!token || token.revokedAt !== null || token.expiresAt <= now) return undefined;
      const account = await records.account(token.accountId);
      const idle = token.lastUsedAt === null ? Number.POSITIVE_INFINITY : clock() - Date.parse(token.lastUsedAt);
      if (idle > TOUCH) await records.touchToken(token.id, now);
      return account && { token, account };
    },
  };
}
