import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Account, Invite, Part, Records, Scan, SignOff } from '../../server/storage/ports.ts';
import type { Role } from '../../shared/protocol/roles.ts';
import type { SignedHead } from '../../shared/record/head.ts';

export interface RecordsUnderTest {
  readonly records: Records;
  dispose(): Promise<void>;
}

const t = (minute: number) => new Date(Date.UTC(2026, 0, 1, 0, minute)).toISOString();
const account = (id: string, login = id): Account => ({
  id,
  login,
  name: `Name ${id}`,
  passwordHash: `hash ${id}`,
  createdAt: t(0),
});
const invite = (id: string, over: Partial<Invite> = {}): Invite => ({
  ...{ id, projectId: 'p', role: 'welder', createdBy: 'a', createdAt: t(1), expiresAt: t(60) },
  ...{ usedAt: null, usedBy: null, revokedAt: null },
  ...over,
});
const scan = (id: string, over: Partial<Scan> = {}): Scan => ({
  ...{ id, projectId: 'p', sha256: 'f'.repeat(64), name: 'bay.ply', bytes: 5_000_000_000, points: 60_000_000 },
  ...{ format: 'ply', unit: 'mm', bounds: { min: [-1, 0, 0.5], max: [1, 2, 3] }, spacing: 0.0015 },
  ...{ unplaced: 12_345, uploadedBy: 'a', createdAt: t(2) },
  ...over,
});
const part = (id: string, over: Partial<Part> = {}): Part => ({
  ...{ id, projectId: 'p', sha256: 'e'.repeat(64), name: 'collector.3mf', bytes: 5_000_000_000, triangles: 4_000_000 },
  ...{ format: '3mf', unit: 'mm', unitStated: true, bounds: { min: [-1, 0, 0.5], max: [1, 2, 3] } },
  ...{ uploadedBy: 'a', createdAt: t(2) },
  ...over,
});
const signOff = (seq: number, previousHash: string, over: Partial<SignOff> = {}): SignOff => ({
  ...{ id: `s${seq}`, projectId: 'p', gate: 'design', seq, statement: '{"é":1}', hash: `h${seq}`, previousHash },
  ...{ accountId: 'a', createdAt: t(3) },
  ...over,
});

const head = (size: number): SignedHead => ({
  ...{ project: 'p', size, root: `r${size}`, last: `h${size}`, at: t(3), key: 'k', signature: 's' },
});
/** A sign-off and its head as arguments. */
const signed = (...row: Parameters<typeof signOff>) => [signOff(...row), head(row[0])] as const;

async function fill(records: Records): Promise<void> {
  await records.addAccount(account('a'));
  await records.addAccount(account('b'));
  await records.addProject({ id: 'p', name: 'Job', createdAt: t(1) }, member('p', 'a', ['lead']));
}

function member(projectId: string, accountId: string, roles: readonly Role[]) {
  return { projectId, accountId, roles };
}

/** What the records promise, whatever they are kept in. */
export function recordsContract(name: string, make: () => Promise<RecordsUnderTest>): void {
  describe(`records: ${name}`, () => {
    let under: RecordsUnderTest;
    beforeEach(async () => {
      under = await make();
    });
    afterEach(() => under.dispose());
    const get = () => under.records;
    people(get);
    projects(get);
    invitations(get);
    work(get);
  });
}

function people(get: () => Records): void {
  it('finds an account by id and by login, and refuses a second one with the same login', async () => {
    expect(await get().anyAccount()).toBe(false);
    expect(await get().addAccount(account('a', 'lea'))).toBe('added');
    expect(await get().addAccount(account('b', 'lea'))).toBe('taken');
    expect(await get().account('a')).toEqual(account('a', 'lea'));
    expect(await get().accountByLogin('lea')).toEqual(account('a', 'lea'));
    expect([await get().account('b'), await get().accountByLogin('b')]).toEqual([undefined, undefined]);
    expect(await get().anyAccount()).toBe(true);
  });

  it('lets only one of several first accounts in', async () => {
    const tries = ['a', 'b', 'c', 'd'].map((id) => get().addFirstAccount(account(id)));
    expect((await Promise.all(tries)).filter((outcome) => outcome === 'added')).toHaveLength(1);
    expect(await get().addFirstAccount(account('e'))).toBe('taken');
  });

  it('keeps, touches and removes sessions', async () => {
    await get().addAccount(account('a'));
    const session = { id: 's', accountId: 'a', createdAt: t(0), lastSeenAt: t(0), expiresAt: t(10) };
    await get().addSession(session);
    await get().touchSession('s', t(5));
    await get().touchSession('absent', t(5));
    expect(await get().session('s')).toEqual({ ...session, lastSeenAt: t(5) });
    await get().removeSession('s');
    expect(await get().session('s')).toBeUndefined();
  });

  it('removes sessions that ran out or were idle, and no other', async () => {
    await get().addAccount(account('a'));
    const add = (id: string, lastSeenAt: string, expiresAt: string) =>
      get().addSession({ id, accountId: 'a', createdAt: t(0), lastSeenAt, expiresAt });
    await add('out', t(9), t(10));
    await add('idle', t(4), t(20));
    await add('good', t(5), t(20));
    expect(await get().removeEndedSessions(t(10), t(5))).toBe(2);
    expect(await get().session('good')).toBeDefined();
  });
}

function projects(get: () => Records): void {
  it('shows a project to its members with their roles', async () => {
    await fill(get());
    await get().addProject({ id: 'q', name: 'Older', createdAt: t(0) }, member('q', 'a', ['lead']));
    await get().putMember(member('p', 'b', ['welder', 'reviewer']));
    expect(await get().project('p')).toEqual({ id: 'p', name: 'Job', createdAt: t(1) });
    expect(await get().project('x')).toBeUndefined();
    expect((await get().membershipsOf('a')).map(({ project }) => project.id)).toEqual(['q', 'p']);
    expect(await get().membershipsOf('b')).toEqual([
      { project: { id: 'p', name: 'Job', createdAt: t(1) }, roles: ['welder', 'reviewer'] },
    ]);
    expect(await get().participants('p')).toEqual([
      { account: account('a'), roles: ['lead'] },
      { account: account('b'), roles: ['welder', 'reviewer'] },
    ]);
    expect(await get().member('q', 'b')).toBeUndefined();
  });

  it('replaces the roles of a member', async () => {
    await fill(get());
    await get().putMember(member('p', 'a', ['lead', 'designer']));
    expect(await get().member('p', 'a')).toEqual(member('p', 'a', ['lead', 'designer']));
  });
}

function invitations(get: () => Records): void {
  it('lets an invite be used once, by a new account', async () => {
    await fill(get());
    await get().addInvite(invite('i'));
    const accept = (id: string) => get().acceptInvite({ inviteId: 'i', at: t(2), account: account(id) });
    const outcomes = await Promise.all([accept('c'), accept('d'), accept('e')]);
    expect(outcomes.map(({ kind }) => kind).sort()).toEqual(['accepted', 'gone', 'gone']);
    const used = await get().invite('i');
    expect(used).toMatchObject({ usedAt: t(2) });
    expect(await get().member('p', used?.usedBy ?? '')).toMatchObject({ roles: ['welder'] });
    expect(await get().participants('p')).toHaveLength(2);
  });

  it('adds the role to those an existing account holds, once', async () => {
    await fill(get());
    await get().addInvite(invite('i'));
    await get().addInvite(invite('j'));
    const roles = ['lead', 'welder'];
    const outcome = { kind: 'accepted', member: { projectId: 'p', accountId: 'a', roles } };
    expect(await get().acceptInvite({ inviteId: 'i', at: t(2), account: 'a' })).toEqual(outcome);
    expect(await get().acceptInvite({ inviteId: 'j', at: t(2), account: 'a' })).toEqual(outcome);
  });

  it('stays open when the chosen login is taken', async () => {
    await fill(get());
    await get().addInvite(invite('i'));
    const taken = await get().acceptInvite({ inviteId: 'i', at: t(2), account: account('c', 'b') });
    expect(taken).toEqual({ kind: 'taken' });
    expect(await get().invite('i')).toEqual(invite('i'));
    expect(await get().account('c')).toBeUndefined();
  });

  it('is gone when expired, revoked or never made', async () => {
    await fill(get());
    await get().addInvite(invite('old', { expiresAt: t(2) }));
    await get().addInvite(invite('no', { createdAt: t(2) }));
    expect(await get().revokeInvite('other', 'no', t(2))).toBe(false);
    expect(await get().revokeInvite('p', 'no', t(2))).toBe(true);
    expect(await get().revokeInvite('p', 'no', t(3))).toBe(false);
    expect(await get().revokeInvite('p', 'old', t(2))).toBe(false);
    for (const inviteId of ['old', 'no', 'absent']) {
      expect(await get().acceptInvite({ inviteId, at: t(2), account: 'b' })).toEqual({ kind: 'gone' });
    }
    expect((await get().invites('p')).map(({ id }) => id)).toEqual(['no', 'old']);
    expect(await get().member('p', 'b')).toBeUndefined();
  });
}

function work(get: () => Records): void {
  it('keeps a scan with all its figures, once per project, file and unit', async () => {
    await fill(get());
    expect(await get().addScan(scan('one'))).toEqual(scan('one'));
    expect(await get().addScan(scan('two'))).toEqual(scan('one'));
    const inch = scan('three', { unit: 'in', spacing: null, unplaced: null, createdAt: t(1) });
    expect(await get().addScan(inch)).toEqual(inch);
    expect(await get().scan('p', 'one')).toEqual(scan('one'));
    expect(await get().scan('q', 'one')).toBeUndefined();
    expect(await get().scans('p')).toEqual([inch, scan('one')]);
  });

  it('keeps a part with all its figures, once per project, file and unit', async () => {
    await fill(get());
    expect(await get().addPart(part('one'))).toEqual(part('one'));
    expect(await get().addPart(part('two', { name: 'again.3mf' }))).toEqual(part('one'));
    const inch = part('three', { unit: 'in', unitStated: false, createdAt: t(1) });
    expect(await get().addPart(inch)).toEqual(inch);
    expect(await get().part('p', 'one')).toEqual(part('one'));
    expect(await get().part('q', 'one')).toBeUndefined();
    expect(await get().parts('p')).toEqual([inch, part('one')]);
    expect(await get().scans('p')).toEqual([]);
  });

  it('appends a sign-off only at the end of the chain', async () => {
    await fill(get());
    expect(await get().appendSignOff(...signed(2, ''))).toBe('moved');
    expect(await get().heads('p')).toEqual([]);
    const both = [get().appendSignOff(...signed(1, '')), get().appendSignOff(...signed(1, '', { id: 'other' }))];
    expect((await Promise.all(both)).sort()).toEqual(['appended', 'moved']);
    expect(await get().appendSignOff(...signed(2, 'wrong'))).toBe('moved');
    expect(await get().appendSignOff(...signed(2, 'h1', { gate: 'scan' }))).toBe('appended');
    expect((await get().signOffs('p')).map(({ seq }) => seq)).toEqual([1, 2]);
    expect(await get().signOffs('p', 'scan')).toEqual([signOff(2, 'h1', { gate: 'scan' })]);
    expect(await get().lastSignOff('p')).toEqual(signOff(2, 'h1', { gate: 'scan' }));
    expect(await get().lastSignOff('q')).toBeUndefined();
    expect(await get().heads('p')).toEqual([head(1), head(2)]);
    expect(await get().heads('q')).toEqual([]);
  });

  it('numbers revisions within their project, also when two are added at once', async () => {
    await fill(get());
    await get().addProject({ id: 'q', name: 'Other', createdAt: t(1) }, member('q', 'a', ['lead']));
    const add = (id: string, projectId = 'p') =>
      get().addRevision({
        ...{ id, projectId, name: `Name ${id}`, note: 'two\nlines', seq: 7, sha256: 'd'.repeat(64), ruleSet: 3 },
        ...{ by: 'a', createdAt: t(4) },
      });
    const both = await Promise.all([add('r1'), add('r2')]);
    expect(both.map(({ n }) => n).sort()).toEqual([1, 2]);
    expect(await add('r3', 'q')).toMatchObject({ n: 1, note: 'two\nlines' });
    expect((await get().revisions('p')).map(({ n }) => n)).toEqual([2, 1]);
    expect(await get().revision('p', 'r1')).toEqual(both[0]);
    expect(await get().revision('q', 'r1')).toBeUndefined();
    expect(await get().revisions('none')).toEqual([]);
  });

  it('binds a client id to whoever used it first', async () => {
    await fill(get());
    const clientId = 2 ** 53 - 1;
    const bind = (accountId: string, doc: string) => get().bindClient({ projectId: 'p', doc, clientId, accountId });
    expect([await bind('a', 'spec'), await bind('b', 'spec'), await bind('b', 'markup')]).toEqual(['a', 'a', 'b']);
    expect(await get().clientBindings('p', 'spec')).toEqual(new Map([[clientId, 'a']]));
    expect(await get().clientBindings('q', 'spec')).toEqual(new Map());
  });

  it('keeps settings', async () => {
    expect(await get().setting('k')).toBeUndefined();
    await get().putSetting('k', '1');
    await get().putSetting('k', '2');
    expect(await get().setting('k')).toBe('2');
    await get().probe();
  });
}
