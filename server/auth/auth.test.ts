import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { seededRandom, type TestClock, testClock } from '../../tests/support/clock.ts';
import { memoryRecords } from '../../tests/support/memory-records.ts';
import type { Account, Records } from '../storage/ports.ts';
import { type Auth, createAuth, type NewAccount } from './auth.ts';
import { passwordHashing, slots } from './hashing.ts';

const HOUR = 3_600_000;
const password = 'copper lantern oyster vigil';
const lea: NewAccount = { name: 'Lead', login: 'lead', password };
const address = '192.0.2.1';

let clock: TestClock;
let records: Records;
let auth: Auth;
let account: Account;

function fresh(secure = false): Auth {
  return createAuth({ records, clock: clock.now, random: seededRandom(1), secure });
}

/** What a browser would send back for a Set-Cookie value. */
function sent(setCookie: string): string {
  return setCookie.split(';')[0] ?? '';
}

async function signIn(over: Partial<{ login: string; password: string; address: string }> = {}) {
  return auth.signIn({ login: 'lead', password, address, ...over });
}

async function cookie(): Promise<string> {
  const outcome = await signIn();
  return outcome.kind === 'signed-in' ? sent(outcome.cookie) : '';
}

beforeEach(async () => {
  clock = testClock();
  records = memoryRecords();
  auth = fresh();
  const made = await auth.addAccount(lea);
  if ('problem' in made) throw new Error(made.problem);
  account = made;
});
afterEach(() => vi.useRealTimers());

describe('sessions', () => {
  it('are known by their cookie until signed out, and tell their sockets', async () => {
    const header = await cookie();
    const read = await auth.readSession(`other=1; ${header}; last=2`);
    expect(read?.account).toEqual(account);
    const ended: string[] = [];
    const stop = auth.onSessionEnd((id) => ended.push(id));
    expect(await auth.signOut(header)).toContain('Max-Age=0');
    expect(ended).toEqual([read?.sessionId]);
    expect(await auth.readSession(header)).toBeUndefined();
    stop();
  });

  it('keep only a hash of the cookie', async () => {
    const header = await cookie();
    const token = header.split('=')[1] ?? '';
    expect(token).toHaveLength(43);
    expect(await records.session(token)).toBeUndefined();
    const read = await auth.readSession(header);
    expect(JSON.stringify(await records.session(read?.sessionId ?? ''))).not.toContain(token);
  });

  it('get a new id at every sign-in', async () => {
    expect(await cookie()).not.toBe(await cookie());
  });

  it('end after 12 hours without use', async () => {
    const header = await cookie();
    clock.advance(12 * HOUR);
    expect(await auth.readSession(header)).toBeDefined();
    clock.advance(12 * HOUR + 1);
    expect(await auth.readSession(header)).toBeUndefined();
  });

  it('end after 7 days however much they are used', async () => {
    const header = await cookie();
    for (let hours = 0; hours < 7 * 24 - 1; hours += 1) {
      clock.advance(HOUR);
      expect(await auth.readSession(header)).toBeDefined();
    }
    clock.advance(HOUR);
    expect(await auth.readSession(header)).toBeUndefined();
  });

  it('are swept when they ran out', async () => {
    await cookie();
    clock.advance(6 * HOUR);
    await cookie();
    clock.advance(7 * HOUR);
    expect(await auth.sweep()).toBe(1);
  });

  it.each([undefined, '', 'slipjoint=', 'slipjoint=short', `slipjoint=${'a'.repeat(43)}`, 'x; y;;'])(
    'are not made up from the header %j',
    async (header) => {
      expect(await auth.readSession(header)).toBeUndefined();
    },
  );

  it('use a name browsers protect when the server is reached over TLS', async () => {
    auth = fresh(true);
    const outcome = await signIn();
    const header = outcome.kind === 'signed-in' ? outcome.cookie : '';
    expect(header).toMatch(/^__Host-slipjoint=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax; Secure; Max-Age=604800$/);
    expect(await auth.readSession(sent(header))).toBeDefined();
    expect(await auth.readSession(sent(header).replace('__Host-', ''))).toBeUndefined();
  });
});

describe('signing in', () => {
  it('tells a wrong password and an unknown login apart to nobody', async () => {
    expect(await signIn({ password: 'wrong' })).toEqual({ kind: 'wrong' });
    expect(await signIn({ login: 'nobody' })).toEqual({ kind: 'wrong' });
  });

  it('does not take the decoy password for an unknown login', async () => {
    expect(await signIn({ login: 'nobody', password: 'nobody has this password' })).toEqual({ kind: 'wrong' });
  });

  it('gives an account 5 wrong tries in 15 minutes, then refuses the right one too, then lets it in again', async () => {
    vi.useFakeTimers({ toFake: ['Date', 'setTimeout', 'clearTimeout'] });
    const tries = Array.from({ length: 6 }, () => signIn({ password: 'wrong' }));
    const kinds = (await Promise.all(tries)).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'wrong')).toHaveLength(5);
    expect(await signIn({ address: '192.0.2.2' })).toEqual({ kind: 'too-many', retryAfter: 15 * 60 });
    vi.advanceTimersByTime(15 * 60_000 + 1);
    expect((await signIn()).kind).toBe('signed-in');
  });

  it('forgets the wrong tries after a right one', async () => {
    for (let round = 0; round < 3; round++) {
      for (let index = 0; index < 4; index++) expect((await signIn({ password: 'wrong' })).kind).toBe('wrong');
      expect((await signIn()).kind).toBe('signed-in');
    }
  });

  it('gives an address 30 wrong tries an hour over all logins', async () => {
    const tries = Array.from({ length: 31 }, (_, index) => signIn({ login: `guess${index}` }));
    const outcomes = await Promise.all(tries);
    expect(outcomes.filter(({ kind }) => kind === 'wrong')).toHaveLength(30);
    expect((await signIn()).kind).toBe('too-many');
    expect((await signIn({ address: '192.0.2.2' })).kind).toBe('signed-in');
  });

  it('confirms a password for an act, within the same limits', async () => {
    expect(await auth.confirm({ account, password, address })).toBe('right');
    for (let index = 0; index < 5; index++) {
      expect(await auth.confirm({ account, password: 'wrong', address })).toBe('wrong');
    }
    expect(await auth.confirm({ account, password, address })).toMatchObject({ kind: 'too-many' });
    expect((await signIn()).kind).toBe('too-many');
  });

  it('accepts the same password however its accents are written', async () => {
    const composed = 'caf\u00e9 lantern oyster vigil';
    await auth.addAccount({ name: 'Two', login: 'two', password: composed });
    expect((await signIn({ login: 'two', password: composed.normalize('NFD') })).kind).toBe('signed-in');
  });
});

describe('the first account', () => {
  const first = (code: string) => auth.setUp({ ...lea, code, address });

  it('needs the code from the console, typed in any manner', async () => {
    records = memoryRecords();
    auth = fresh();
    const code = (await auth.setupCode()) ?? '';
    expect(code).toMatch(/^([A-Z2-9]{4}-){3}[A-Z2-9]{4}$/);
    expect(await first('AAAA-AAAA-AAAA-AAAA')).toEqual({ kind: 'wrong-code' });
    expect(await auth.setUp({ ...lea, code, address, password: 'short' })).toMatchObject({ kind: 'weak' });
    expect(await first(code.toLowerCase().replaceAll('-', ' '))).toMatchObject({ kind: 'signed-in' });
    expect(await auth.setupCode()).toBeUndefined();
    expect(await first(code)).toEqual({ kind: 'already' });
  });

  it('is the only one made when two arrive at once', async () => {
    records = memoryRecords();
    auth = fresh();
    const code = (await auth.setupCode()) ?? '';
    const both = await Promise.all([first(code), auth.setUp({ ...lea, login: 'other', code, address })]);
    expect(both.map(({ kind }) => kind).sort()).toEqual(['already', 'signed-in']);
  });

  it('allows an address 30 guesses at the code an hour', async () => {
    records = memoryRecords();
    auth = fresh();
    for (let index = 0; index < 30; index++) await first('wrong');
    expect((await first((await auth.setupCode()) ?? '')).kind).toBe('too-many');
  });
});

describe('invites', () => {
  const guest: NewAccount = { name: 'Weld', login: 'weld', password: 'violet anchor teapot drizzle' };
  const make = async () => {
    const member = { projectId: 'p', accountId: account.id, roles: ['lead' as const] };
    await records.addProject({ id: 'p', name: 'Job', createdAt: new Date(clock.now()).toISOString() }, member);
    return auth.invites.make('p', 'welder', account);
  };

  it('make a member of a new person, who is then signed in', async () => {
    const { token, invite } = await make();
    expect(JSON.stringify(invite)).not.toContain(token);
    const joined = await auth.join(token, guest);
    expect(joined).toMatchObject({ kind: 'accepted', member: { projectId: 'p', roles: ['welder'] } });
    const header = joined.kind === 'accepted' ? sent(joined.cookie) : '';
    expect((await auth.readSession(header))?.account.login).toBe('weld');
    expect(await auth.join(token, { ...guest, login: 'again' })).toEqual({ kind: 'gone' });
  });

  it('end after 72 hours', async () => {
    const { token, invite } = await make();
    clock.advance(72 * HOUR - 1);
    expect(auth.invites.state(invite)).toBe('open');
    clock.advance(1);
    expect(auth.invites.state(invite)).toBe('expired');
    expect(await auth.join(token, guest)).toEqual({ kind: 'gone' });
    expect(await auth.invites.accept(token, account.id)).toEqual({ kind: 'gone' });
  });

  it('can be revoked', async () => {
    const { token, invite } = await make();
    expect(await auth.invites.revoke('p', invite.id)).toBe(true);
    expect(await auth.join(token, guest)).toEqual({ kind: 'gone' });
    expect(auth.invites.state((await auth.invites.find(token)) ?? invite)).toBe('revoked');
  });

  it('never sign anybody in to an account that exists', async () => {
    const { token } = await make();
    expect(await auth.join(token, { ...guest, login: 'lead' })).toEqual({ kind: 'taken' });
    const outcome = await auth.invites.accept(token, account.id);
    expect(Object.keys(outcome).sort()).toEqual(['kind', 'member']);
  });

  it('are still open after a weak password', async () => {
    const { token } = await make();
    expect(await auth.join(token, { ...guest, password: 'short' })).toMatchObject({ kind: 'weak' });
    expect(await auth.join(token, guest)).toMatchObject({ kind: 'accepted' });
  });
});

describe('hashing', () => {
  it('is argon2id at the agreed cost, with a salt of its own', async () => {
    const hashing = passwordHashing();
    const [one, two] = await Promise.all([hashing.hash(password), hashing.hash(password)]);
    expect(one).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(one).not.toBe(two);
    expect(await hashing.verify(one, password)).toBe(true);
    expect(await hashing.verify(one, `${password} `)).toBe(false);
    expect(await hashing.verify(undefined, password)).toBe(false);
  });

  it('runs two pieces of work at once, in order, and goes on after one fails', async () => {
    const inSlot = slots(2);
    const started: number[] = [];
    const release: (() => void)[] = [];
    const run = (index: number) =>
      inSlot(async () => {
        started.push(index);
        await new Promise<void>((resolve) => release.push(resolve));
        if (index === 0) throw new Error('fails');
      });
    const all = [0, 1, 2, 3].map((index) => run(index).catch(() => undefined));
    expect(started).toEqual([0, 1]);
    for (const expected of [
      [0, 1, 2],
      [0, 1, 2, 3],
    ]) {
      release.shift()?.();
      await vi.waitFor(() => expect(started).toEqual(expected));
    }
    for (const resolve of release) resolve();
    await Promise.all(all);
  });
});
