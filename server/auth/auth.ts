import { timingSafeEqual } from 'node:crypto';
import { type Clock, isoTime, newId, type Random } from '../ambient.ts';
import type { AcceptanceOutcome, Account, Records } from '../storage/ports.ts';
import { sessionCookie, tokenHash } from './cookies.ts';
import { type PasswordHashing, passwordHashing } from './hashing.ts';
import { type Invites, invites } from './invites.ts';
import { defaultSignInLimits, type SignInLimits, tryLimiter } from './limits.ts';
import { passwordProblem } from './password-policy.ts';
import { type SignedIn, sessions } from './sessions.ts';

export interface NewAccount {
  readonly name: string;
  /** Lower case, NFC. */
  readonly login: string;
  readonly password: string;
}

/** retryAfter in seconds; cookie is a Set-Cookie value. */
export type SignInOutcome =
  | { readonly kind: 'signed-in'; readonly account: Account; readonly cookie: string }
  | { readonly kind: 'wrong' }
  | { readonly kind: 'too-many'; readonly retryAfter: number };

export type SetupOutcome =
  | Exclude<SignInOutcome, { kind: 'wrong' }>
  | { readonly kind: 'wrong-code' }
  | { readonly kind: 'already' }
  | { readonly kind: 'weak'; readonly problem: string };

export type JoinOutcome =
  | (Extract<AcceptanceOutcome, { kind: 'accepted' }> & { readonly account: Account; readonly cookie: string })
  | Exclude<AcceptanceOutcome, { kind: 'accepted' }>
  | { readonly kind: 'weak'; readonly problem: string };

export type ConfirmOutcome = 'right' | 'wrong' | { readonly kind: 'too-many'; readonly retryAfter: number };

export interface Auth {
  /** Who a Cookie header belongs to; for HTTP requests and for socket upgrades alike. */
  readSession(cookieHeader: string | undefined): Promise<SignedIn | undefined>;
  signIn(who: { login: string; password: string; address: string }): Promise<SignInOutcome>;
  /** Returns the Set-Cookie value that clears the cookie. */
  signOut(cookieHeader: string | undefined): Promise<string>;
  /** The password once more, for acts that need it (signing a gate); counts against the same limits. */
  confirm(who: { account: Account; password: string; address: string }): Promise<ConfirmOutcome>;
  /** Called when a session ends (signed out or run out), so its sockets can be closed. Returns how to stop listening. */
  onSessionEnd(listener: (sessionId: string) => void): () => void;
  /** For the console at start; undefined once there is an account. The same for as long as the process lives. */
  setupCode(): Promise<string | undefined>;
  setUp(first: NewAccount & { code: string; address: string }): Promise<SetupOutcome>;
  readonly invites: Invites;
  /** A new person by an invite link: account, membership and session. */
  join(token: string, account: NewAccount): Promise<JoinOutcome>;
  /** An account without a session, for the demo and the command line; the problem in words if it can't be made. */
  addAccount(account: NewAccount): Promise<Account | { readonly problem: string }>;
  /** Forgets sessions that ran out; returns how many. */
  sweep(): Promise<number>;
}

export interface AuthParts {
  readonly records: Records;
  readonly clock: Clock;
  readonly random: Random;
  /** True when people reach the server over TLS. */
  readonly secure: boolean;
  readonly limits?: SignInLimits;
  readonly hashing?: PasswordHashing;
}

export function createAuth(parts: AuthParts): Auth {
  const { records, clock, random, secure, limits = defaultSignInLimits, hashing = passwordHashing() } = parts;
  const kept = sessions({ records, clock, random, cookie: sessionCookie(secure) });
  const links = invites(records, clock, random);
  const limiter = tryLimiter(limits);
  const build = async ({ name, login, password }: NewAccount): Promise<Account> => {
    const passwordHash = await hashing.hash(password);
    return { id: newId(random), login, name, passwordHash, createdAt: isoTime(clock()) };
  };
  const context = { records, hashing, limiter, kept, build, links };
  return {
    readSession: kept.read,
    signIn: (who) => signIn(context, who),
    signOut: kept.end,
    confirm: (who) => confirm(context, who),
    onSessionEnd: kept.onEnd,
    ...firstSetup(context, random),
    invites: links,
    join: (token, account) => join(context, token, account),
    addAccount: async (account) => {
      const problem = weakness(account);
      if (problem !== undefined) return { problem };
      const made = await build(account);
      return (await records.addAccount(made)) === 'taken' ? { problem: `login ${account.login} is taken` } : made;
    },
    sweep: kept.sweep,
  };
}

interface Context {
  readonly records: Records;
  readonly hashing: PasswordHashing;
  readonly limiter: ReturnType<typeof tryLimiter>;
  readonly kept: ReturnType<typeof sessions>;
  readonly build: (account: NewAccount) => Promise<Account>;
  readonly links: Invites;
}

async function signIn(
  { records, hashing, limiter, kept }: Context,
  who: { login: string; password: string; address: string },
): Promise<SignInOutcome> {
  const retryAfter = await limiter.count(who);
  if (retryAfter !== undefined) return { kind: 'too-many', retryAfter };
  const account = await records.accountByLogin(who.login);
  const right = await hashing.verify(account?.passwordHash, who.password);
  if (!account || !right) return { kind: 'wrong' };
  await limiter.forgive(who);
  return { kind: 'signed-in', account, cookie: await kept.start(account.id) };
}

async function confirm(
  { hashing, limiter }: Context,
  { account, password, address }: { account: Account; password: string; address: string },
): Promise<ConfirmOutcome> {
  const who = { login: account.login, address };
  const retryAfter = await limiter.count(who);
  if (retryAfter !== undefined) return { kind: 'too-many', retryAfter };
  if (!(await hashing.verify(account.passwordHash, password))) return 'wrong';
  await limiter.forgive(who);
  return 'right';
}

function firstSetup(context: Context, random: Random): Pick<Auth, 'setupCode' | 'setUp'> {
  const { records, limiter, kept, build } = context;
  const code = readableCode(random);
  return {
    setupCode: async () => ((await records.anyAccount()) ? undefined : code),
    setUp: async ({ code: came, address, ...account }) => {
      const retryAfter = await limiter.count({ address });
      if (retryAfter !== undefined) return { kind: 'too-many', retryAfter };
      if (await records.anyAccount()) return { kind: 'already' };
      if (!sameSecret(plainCode(came), plainCode(code))) return { kind: 'wrong-code' };
      await limiter.forgive({ address });
      const problem = weakness(account);
      if (problem !== undefined) return { kind: 'weak', problem };
      const made = await build(account);
      if ((await records.addFirstAccount(made)) === 'taken') return { kind: 'already' };
      return { kind: 'signed-in', account: made, cookie: await kept.start(made.id) };
    },
  };
}

async function join({ kept, build, links }: Context, token: string, account: NewAccount): Promise<JoinOutcome> {
  // Looked at before the costly hash: whoever has no open invite gets no work out of this server.
  const invite = await links.find(token);
  if (!invite || links.state(invite) !== 'open') return { kind: 'gone' };
  const problem = weakness(account);
  if (problem !== undefined) return { kind: 'weak', problem };
  const made = await build(account);
  const outcome = await links.accept(token, made);
  if (outcome.kind !== 'accepted') return outcome;
  return { ...outcome, account: made, cookie: await kept.start(made.id) };
}

function weakness({ name, login, password }: NewAccount): string | undefined {
  return passwordProblem(password, [name, login]);
}

/** 80 bits to be copied by hand from a console: no 0, 1, I or O. */
function readableCode(random: Random): string {
  const alphabet = 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789';
  const characters = Array.from(random(16), (byte) => alphabet[byte & 31]);
  return characters.join('').replace(/(.{4})(?!$)/g, '$1-');
}

function plainCode(text: string): string {
  return text.toUpperCase().replaceAll(/[^A-Z0-9]/g, '');
}

function sameSecret(a: string, b: string): boolean {
  return timingSafeEqual(Buffer.from(tokenHash(a)), Buffer.from(tokenHash(b)));
}
