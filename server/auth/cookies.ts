import { createHash } from 'node:crypto';

/** Absolute lifetime of a session, ms; the cookie lives as long. */
export const SESSION_LIFE = 7 * 24 * 3_600_000;

export interface SessionCookie {
  /** The session token in a Cookie header, undefined if there is none. */
  read(header: string | undefined): string | undefined;
  /** Set-Cookie values. */
  set(token: string): string;
  clear(): string;
}

/** Over TLS the name's prefix makes browsers refuse it from any other host, path or unencrypted page. */
export function sessionCookie(secure: boolean): SessionCookie {
  const name = secure ? '__Host-slipjoint' : 'slipjoint';
  const attributes = `Path=/; HttpOnly; SameSite=Lax${secure ? '; Secure' : ''}`;
  return {
    read: (header) => {
      const pairs = (header ?? '').split(';').map((pair) => pair.trim());
      const value = pairs.find((pair) => pair.startsWith(`${name}=`))?.slice(name.length + 1);
      return value && /^[\w-]{43}$/.test(value) ? value : undefined;
    },
    set: (token) => `${name}=${token}; ${attributes}; Max-Age=${SESSION_LIFE / 1000}`,
    clear: () => `${name}=; ${attributes}; Max-Age=0`,
  };
}

/** Tokens are kept only as this: whoever reads the database can't use one. 256 random bits need no salt. */
export function tokenHash(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
