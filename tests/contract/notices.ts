import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Delivery, Notice, StandingNotice } from '../../server/storage/notices.ts';
import type { Records } from '../../server/storage/ports.ts';
import type { ApiToken } from '../../server/storage/tokens.ts';
import type { RecordsUnderTest } from './records.ts';

const t = (minute: number) => new Date(Date.UTC(2026, 0, 1, 0, minute)).toISOString();
const standing = (accountId: string, subject: string): StandingNotice => ({
  ...{ accountId, subject, kind: 'waits', words: `words of ${subject}`, place: { kind: 'gate', gate: 'design' } },
});
const token = (id: string, over: Partial<ApiToken> = {}): ApiToken => ({
  ...{ id, projectId: 'p', accountId: 'a', name: 'Nightly', scopes: ['read', 'edit'], createdAt: t(1) },
  ...{ expiresAt: t(60), lastUsedAt: null, revokedAt: null },
  ...over,
});
const delivery = (notice: Notice, over: Partial<Delivery> = {}): Delivery => ({
  ...{ id: `d-${notice.id}`, projectId: 'p', way: 'mail', recipient: notice.accountId, noticeId: notice.id },
  ...{ payload: '', createdAt: notice.at, tries: 0, nextAt: notice.at },
  ...{ doneAt: null, givenUpAt: null, lastError: null },
  ...over,
});

async function fill(records: Records): Promise<void> {
  for (const id of ['a', 'b']) {
    await records.addAccount({ id, login: id, name: `Name ${id}`, passwordHash: 'h', createdAt: t(0) });
  }
  await records.addProject(
    { id: 'p', name: 'Job', createdAt: t(1) },
    { projectId: 'p', accountId: 'a', roles: ['lead'] },
  );
  await records.putMember({ projectId: 'p', accountId: 'b', roles: ['welder'] });
}

/** What the records promise of notices, their outbox, tokens and people who leave. */
export function noticesContract(name: string, make: () => Promise<RecordsUnderTest>): void {
  describe(`notices and tokens: ${name}`, () => {
    let under: RecordsUnderTest;
    beforeEach(async () => {
      under = await make();
      await fill(under.records);
    });
    afterEach(() => under.dispose());
    const get = () => under.records;
    notices(get);
    outbox(get);
    tokens(get);
    leaving(get);
  });
}

let count = 0;
async function tell(records: Records, minute: number, ...now: readonly StandingNotice[]) {
  return records.tell({
    ...{ projectId: 'p', at: t(minute), standing: now, overSince: t(minute - 10) },
    newId: () => `n${count++}`,
    deliveries: (fresh) => fresh.map((notice) => delivery(notice)),
  });
}

function notices(get: () => Records): void {
  it('tells what stands once, and ends what no longer does', async () => {
    const first = await tell(get(), 1, standing('a', 'x'), standing('b', 'x'), standing('a', 'y'));
    expect([first.fresh.length, [...first.accounts].sort()]).toEqual([3, ['a', 'b']]);
    expect(await tell(get(), 2, standing('a', 'x'), standing('b', 'x'), standing('a', 'y'))).toEqual({
      fresh: [],
      accounts: [],
    });
    expect((await tell(get(), 3, standing('b', 'x'))).accounts).toEqual(['a']);
    expect(await get().notices('p', 'a')).toEqual([]);
    expect(await get().notices('p', 'b')).toMatchObject([{ subject: 'x', at: t(1), place: { gate: 'design' } }]);
    expect(await get().dueDeliveries(t(1), 9)).toHaveLength(3);
  });

  it('goes on with a notice that was over for a moment, and tells anew what was over for long', async () => {
    const [{ id } = { id: '' }] = (await tell(get(), 1, standing('a', 'x'))).fresh;
    await tell(get(), 2);
    expect((await tell(get(), 11, standing('a', 'x'))).fresh).toEqual([]);
    expect((await get().notices('p', 'a')).map((one) => one.id)).toEqual([id]);
    await tell(get(), 12);
    expect((await tell(get(), 23, standing('a', 'x'))).fresh).toHaveLength(1);
    expect((await get().notices('p', 'a')).map((one) => one.id)).not.toContain(id);
    expect(await get().notice(id)).toMatchObject({ id, overAt: t(12) });
  });

  it('marks one person’s own as read, once', async () => {
    const { fresh } = await tell(get(), 1, standing('a', 'x'), standing('b', 'x'));
    const ids = fresh.map(({ id }) => id);
    expect(await get().readNotices('p', 'a', ids, t(2))).toBe(1);
    expect(await get().readNotices('p', 'a', ids, t(3))).toBe(0);
    expect((await get().notices('p', 'a')).map(({ readAt }) => readAt)).toEqual([t(2)]);
    expect((await get().notices('p', 'b')).map(({ readAt }) => readAt)).toEqual([null]);
  });
}

function outbox(get: () => Records): void {
  it('gives what is due, keeps how it went, and says when the next is', async () => {
    const { fresh } = await tell(get(), 1, standing('a', 'x'), standing('b', 'x'));
    expect(await get().nextDelivery()).toBe(t(1));
    expect(await get().dueDeliveries(t(0), 9)).toEqual([]);
    expect(await get().dueDeliveries(t(1), 1)).toHaveLength(1);
    const [one, two] = fresh.map((notice) => delivery(notice));
    if (!one || !two) throw new Error('two notices were told');
    await get().putDeliveries([
      { ...one, tries: 1, doneAt: t(4) },
      { ...two, tries: 1, nextAt: t(9), lastError: 'refused' },
    ]);
    expect(await get().dueDeliveries(t(8), 9)).toEqual([]);
    expect((await get().dueDeliveries(t(9), 9)).map(({ id, tries }) => [id, tries])).toEqual([[two.id, 1]]);
    expect(await get().lastMail('p', one.recipient)).toBe(t(4));
    expect(await get().lastMail('p', two.recipient)).toBeUndefined();
    expect(await get().waitingDeliveries('p', two.recipient)).toHaveLength(1);
    expect(await get().countDeliveries(one.recipient)).toEqual({
      ...{ delivered: 1, waiting: 0, givenUp: 0, lastError: null },
    });
    expect(await get().countDeliveries(two.recipient)).toMatchObject({ waiting: 1, lastError: 'refused' });
    await get().putDeliveries([{ ...two, tries: 2, nextAt: t(9), givenUpAt: t(9), lastError: 'refused' }]);
    expect([await get().nextDelivery(), (await get().countDeliveries(two.recipient)).givenUp]).toEqual([undefined, 1]);
  });

  it('keeps hooks until they are ended, and an address for each person', async () => {
    const hook = { id: 'h', projectId: 'p', url: 'https://a', secret: 's', createdBy: 'a', createdAt: t(1) };
    await get().addHook({ ...hook, endedAt: null });
    expect(await get().hooks('p')).toEqual([{ ...hook, endedAt: null }]);
    expect(await get().endHook('other', 'h', t(2))).toBe(false);
    expect([await get().endHook('p', 'h', t(2)), await get().endHook('p', 'h', t(3))]).toEqual([true, false]);
    expect([await get().hooks('p'), (await get().hook('h'))?.endedAt]).toEqual([[], t(2)]);
    const address = { accountId: 'a', address: 'a@x', codeHash: 'c', codeUntil: t(5), tries: 0, confirmedAt: null };
    await get().putMailAddress(address);
    await get().putMailAddress({ ...address, tries: 1 });
    expect(await get().mailAddress('a')).toEqual({ ...address, tries: 1 });
    await get().removeMailAddress('a');
    expect(await get().mailAddress('a')).toBeUndefined();
  });
}

function tokens(get: () => Records): void {
  it('keeps tokens, when they were used, and that they were revoked', async () => {
    await get().addToken(token('k1'));
    await get().addToken(token('k2', { createdAt: t(2), scopes: ['export'] }));
    expect((await get().tokens('p')).map(({ id }) => id)).toEqual(['k2', 'k1']);
    await get().touchToken('k1', t(3));
    expect(await get().token('k1')).toEqual(token('k1', { lastUsedAt: t(3) }));
    expect(await get().revokeToken('other', 'k1', t(4))).toBe(false);
    expect([await get().revokeToken('p', 'k1', t(4)), await get().revokeToken('p', 'k1', t(5))]).toEqual([true, false]);
    expect((await get().token('k1'))?.revokedAt).toBe(t(4));
    expect(await get().token('k3')).toBeUndefined();
  });

  it('keeps an answer until it is forgotten', async () => {
    const answer = { id: 'q', request: 'r', status: 200, body: '{}', at: t(5) };
    await get().keepAnswer(answer);
    await get().keepAnswer({ ...answer, status: 422 });
    expect(await get().keptAnswer('q')).toEqual({ ...answer, status: 422 });
    expect([await get().forgetAnswers(t(5)), await get().forgetAnswers(t(6))]).toEqual([0, 1]);
    expect(await get().keptAnswer('q')).toBeUndefined();
  });
}

function leaving(get: () => Records): void {
  it('takes people out with their tokens and open invites, but never the last lead', async () => {
    await get().putMember({ projectId: 'p', accountId: 'b', roles: ['lead'] });
    await get().addToken(token('k'));
    const made = { projectId: 'p', role: 'welder', createdBy: 'a', createdAt: t(1), expiresAt: t(60) } as const;
    await get().addInvite({ ...made, id: 'i', usedAt: null, usedBy: null, revokedAt: null });
    expect(await get().removeMember('p', 'nobody', t(2))).toBe('not-there');
    expect(await get().removeMember('p', 'a', t(2))).toBe('removed');
    expect(await get().removeMember('p', 'a', t(3))).toBe('not-there');
    expect(await get().removeMember('p', 'b', t(3))).toBe('last-lead');
    expect([await get().member('p', 'a'), (await get().token('k'))?.revokedAt]).toEqual([undefined, t(2)]);
    expect((await get().invite('i'))?.revokedAt).toBe(t(2));
  });
}
