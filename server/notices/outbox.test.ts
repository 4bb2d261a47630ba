import { beforeEach, describe, expect, it } from 'vitest';
import { seededRandom, type TestClock, testClock } from '../../tests/support/clock.ts';
import { memoryRecords } from '../../tests/support/memory-records.ts';
import { isoTime } from '../ambient.ts';
import type { Notice } from '../storage/notices.ts';
import type { Records } from '../storage/ports.ts';
import { Outbox, type Post } from './outbox.ts';
import type { Scene } from './standing.ts';
import { NoticeWatch } from './watch.ts';

const MINUTE = 60_000;
let clock: TestClock;
let records: Records;
let sent: { to: string; notices: readonly Notice[] }[];
let posted: { id: string; payload: string }[];
let failing: string | null;
let scene: Omit<Scene, 'people'>;
let random = seededRandom(3);
let timers: { at: number; run: () => void }[];

/** Timers that run when the test says so. */
const after = (ms: number, run: () => void): (() => void) => {
  const timer = { at: clock.now() + ms, run };
  timers.push(timer);
  return () => {
    timers = timers.filter((one) => one !== timer);
  };
};

const post: Post = {
  mail: async (to, { notices }) => {
    if (failing !== null) throw new Error(failing);
    sent.push({ to, notices });
  },
  hook: async (_to, id, payload) => {
    posted.push({ id, payload });
    if (failing !== null) throw new Error(failing);
  },
};

function remark(n: number, text = '@bob look') {
  const comments = [{ id: '0', by: 'ann', text }];
  const anchor = { kind: 'place', at: [0, 0, 0] } as const;
  return { id: `t${n}`, n, by: 'ann', anchor, state: 'open', resolvedBy: null, comments } as const;
}

const warn = (event: string, detail: unknown): never => {
  throw new Error(`${event} ${JSON.stringify(detail)}`);
};
const watch = () =>
  new NoticeWatch({
    ...{ records, clock: clock.now, random, after, mail: true, warn },
    ...{ scene: async () => scene, told: () => undefined, posted: () => undefined, urlOf: (id: string) => `/j/${id}` },
  });
const outbox = () => new Outbox({ records, clock: clock.now, after, post, warn });

beforeEach(async () => {
  [clock, records, sent, posted, failing, timers] = [testClock(), memoryRecords(), [], [], null, []];
  random = seededRandom(3);
  scene = { gates: [], threads: [remark(1)] };
  const at = isoTime(clock.now());
  for (const id of ['ann', 'bob'])
    await records.addAccount({ id, login: id, name: `Name ${id}`, passwordHash: '', createdAt: at });
  await records.addProject(
    { id: 'p', name: 'Job', createdAt: at },
    { projectId: 'p', accountId: 'ann', roles: ['lead'] },
  );
  await records.putMember({ projectId: 'p', accountId: 'bob', roles: ['welder'] });
  const address = { accountId: 'bob', address: 'bob@shop', codeHash: null, codeUntil: null, tries: 0 };
  await records.putMailAddress({ ...address, confirmedAt: at });
});

async function addHook(): Promise<void> {
  const createdAt = isoTime(clock.now());
  const hook = { id: 'h', projectId: 'p', url: 'https://x', secret: 'whsec_eA==', createdBy: 'ann', endedAt: null };
  await records.addHook({ ...hook, createdAt });
}

describe('telling', () => {
  it('waits until a project rests, then tells once, however often it is looked at', async () => {
    const one = watch();
    for (let turn = 0; turn < 5; turn++) one.noted('p');
    expect(timers).toHaveLength(1);
    timers[0]?.run();
    await one.settled();
    expect(await records.notices('p', 'bob')).toHaveLength(1);
    await watch().look('p');
    await watch().look('p');
    expect(await records.notices('p', 'bob')).toHaveLength(1);
    await outbox().run();
    expect(sent).toHaveLength(1);
  });

  it('makes up for a crash between the change and the notice when the project is opened again', async () => {
    await watch().look('p');
    scene = { gates: [], threads: [remark(1), remark(2)] };
    // The server died before its rest was over; another one opens the room.
    await watch().look('p');
    expect((await records.notices('p', 'bob')).map(({ subject }) => subject).sort()).toEqual([
      'mention t1 0',
      'mention t2 0',
    ]);
  });
});

describe('mail', () => {
  it('goes at most once in ten minutes; what came meanwhile goes together', async () => {
    await watch().look('p');
    const out = outbox();
    await out.run();
    expect(sent.map(({ to, notices }) => [to, notices.length])).toEqual([['bob@shop', 1]]);
    for (const n of [2, 3]) {
      clock.advance(MINUTE);
      scene = { gates: [], threads: [...scene.threads, remark(n)] };
      await watch().look('p');
      await out.run();
    }
    expect(sent).toHaveLength(1);
    clock.advance(8 * MINUTE);
    await out.run();
    expect(sent.map(({ notices }) => notices.length)).toEqual([1, 2]);
  });

  it('is not sent of what was read before, nor to who has left, nor twice after a failure', async () => {
    failing = 'no route';
    const out = outbox();
    await watch().look('p');
    await out.run();
    expect(await records.countDeliveries('bob')).toMatchObject({ waiting: 1, lastError: 'no route' });
    failing = null;
    clock.advance(MINUTE);
    await out.run();
    expect(sent).toHaveLength(1);
    scene = { gates: [], threads: [remark(1), remark(2), remark(3)] };
    clock.advance(11 * MINUTE);
    await watch().look('p');
    const read = (await records.notices('p', 'bob')).filter(({ subject }) => subject.includes('t2'));
    await records.readNotices(
      'p',
      'bob',
      read.map(({ id }) => id),
      isoTime(clock.now()),
    );
    await out.run();
    expect(sent.map(({ notices }) => notices.map(({ subject }) => subject))).toEqual([
      ['mention t1 0'],
      ['mention t3 0'],
    ]);
    scene = { gates: [], threads: [remark(4)] };
    clock.advance(11 * MINUTE);
    await watch().look('p');
    await records.removeMember('p', 'bob', isoTime(clock.now()));
    await out.run();
    expect(sent).toHaveLength(2);
    expect(await records.nextDelivery()).toBeUndefined();
  });
});

describe('a hook', () => {
  it('gets one message for what several people are told', async () => {
    await addHook();
    scene = { gates: [], threads: [remark(1, '@bob @Name bob')] };
    await watch().look('p');
    await outbox().run();
    expect(posted.map(({ payload }) => JSON.parse(payload))).toMatchObject([
      { type: 'notice.mention', data: { project: 'p', accounts: ['bob'], url: '/j/p' } },
    ]);
  });

  it('is tried again with growing pauses under the same id, for a day, then given up and shown', async () => {
    await addHook();
    failing = 'answered 500';
    await watch().look('p');
    const out = outbox();
    const began = clock.now();
    const pauses: number[] = [];
    let last = began;
    while ((await records.countDeliveries('h')).waiting > 0) {
      const next = Date.parse((await records.waitingDeliveries('p', 'h'))[0]?.nextAt ?? '');
      clock.advance(Math.max(0, next - clock.now()));
      await out.run();
      pauses.push(clock.now() - last);
      last = clock.now();
    }
    expect(pauses.slice(1)).toEqual([...pauses.slice(1)].sort((a, b) => a - b));
    expect(posted.length).toBeGreaterThan(8);
    expect(new Set(posted.map(({ id }) => id)).size).toBe(1);
    expect(clock.now() - began).toBeLessThanOrEqual(24 * 60 * MINUTE);
    expect(clock.now() - began).toBeGreaterThan(20 * 60 * MINUTE);
    expect(await records.countDeliveries('h')).toEqual({
      ...{ delivered: 0, waiting: 0, givenUp: 1, lastError: 'answered 500' },
    });
  });

  it('comes through after a failure, and again, under the same id, when the server dies before it could mark it', async () => {
    await addHook();
    await records.removeMailAddress('bob');
    failing = 'answered 500';
    await watch().look('p');
    await outbox().run();
    failing = null;
    clock.advance(5_000);
    // Killed between send and mark: what is marked after the send is lost.
    const dying = new Proxy(records, {
      get: (of, name) => (name === 'putDeliveries' ? () => Promise.reject(new Error('killed')) : Reflect.get(of, name)),
    });
    const silent = { records: dying, clock: clock.now, after, post, warn: () => undefined };
    await new Outbox(silent).run();
    await outbox().run();
    expect(posted.map(({ id }) => id)).toEqual([posted[0]?.id, posted[0]?.id, posted[0]?.id]);
    expect(await records.countDeliveries('h')).toMatchObject({ delivered: 1, waiting: 0, lastError: null });
    await outbox().run();
    expect(posted).toHaveLength(3);
  });

  it('that was ended gets nothing more', async () => {
    await addHook();
    await watch().look('p');
    await records.endHook('p', 'h', isoTime(clock.now()));
    await outbox().run();
    expect([posted, await records.nextDelivery()]).toEqual([[], undefined]);
  });
});
