import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PROTOCOL } from '../../shared/protocol/events.ts';
import { type LiveServer, liveServer } from '../../tests/support/live.ts';
import { openLiveFeed } from '../../tests/support/liveFeed.ts';

let live: LiveServer;
beforeAll(async () => {
  live = await liveServer();
});
afterAll(() => live.close());

const people = { ann: ['lead'], rita: ['reviewer'] } as const;

describe('verdict feed', () => {
  it('gives a member a snapshot, then every turn as one delta with the next number', async () => {
    const at = await live.project(people);
    const [ann, rita] = await Promise.all([live.person('ann'), live.person('rita')]);
    const feed = live.feed(rita, at);
    await feed.joined();
    const [snapshot] = feed.snapshots;
    expect(snapshot).toMatchObject({ project: at, protocol: PROTOCOL, seq: 1 });
    expect(snapshot?.verdicts.length).toBeGreaterThan(10);
    expect(snapshot?.gates).toHaveLength(9);
    const spec = live.document(ann, at);
    await spec.synced();
    for (const torque of [1, 20, 2]) {
      spec.set('stud.torque', torque);
      await spec.kept();
    }
    await live.signal.until(() => feed.seq() >= spec.seq(), 'the verdicts of the last edit');
    const revs = feed.deltas.map((d) => d.rev);
    expect(revs).toEqual(revs.map((_, i) => (snapshot?.rev ?? 0) + 1 + i));
    expect([...feed.verdicts().values()].some((v) => v.rule === 'stud-preload' && v.status === 'fail')).toBe(true);
    const late = live.feed(ann, at);
    await late.joined();
    const sorted = (verdicts: Iterable<{ key: string }>) => [...verdicts].sort((a, b) => (a.key < b.key ? -1 : 1));
    expect(sorted(late.snapshots[0]?.verdicts ?? [])).toEqual(sorted(feed.verdicts().values()));
  });

  it('makes one delta of many changes in one turn', async () => {
    const at = await live.project(people);
    const ann = await live.person('ann');
    const feed = live.feed(ann, at);
    const spec = live.document(ann, at);
    await Promise.all([feed.joined(), spec.synced()]);
    const before = feed.deltas.length;
    spec.edit(() => {
      for (const [i, key] of ['stud.torque', 'engine.lambda', 'tube.wall'].entries()) spec.map.set(key, 0.5 + i / 10);
    });
    await live.signal.until(() => feed.seq() === 2, 'the verdicts of the edit');
    const own = feed.deltas.slice(before).filter((d) => d.changed.some((v) => v.rule === 'stud-preload'));
    expect(own).toHaveLength(1);
    expect(new Set(own[0]?.changed.map((v) => v.key)).size).toBe(own[0]?.changed.length);
  });

  it('starts anew for a client that asks', async () => {
    const at = await live.project(people);
    const feed = live.feed(await live.person('ann'), at);
    await feed.joined();
    feed.socket.emit('resync');
    await live.signal.until(() => feed.snapshots.length === 2, 'a second snapshot');
    expect(feed.snapshots[1]?.rev).toBeGreaterThanOrEqual(feed.snapshots[0]?.rev ?? 0);
  });

  it('answers many requests for a snapshot at once with few', async () => {
    const at = await live.project(people);
    const feed = live.feed(await live.person('ann'), at);
    await feed.joined();
    for (let i = 0; i < 200; i++) feed.socket.emit('resync');
    await live.signal.until(() => feed.snapshots.length > 1, 'a second snapshot');
    expect(feed.snapshots.length).toBeLessThan(50);
  });

  it('refuses another protocol, nonsense, and whoever is no member, and sends them nothing', async () => {
    const at = await live.project(people);
    const [ann, otto] = await Promise.all([live.person('ann'), live.person('otto')]);
    const old = openLiveFeed({
      origin: live.origin,
      cookie: ann.cookie,
      project: at,
      signal: live.signal,
      protocol: 0,
    });
    const outsider = live.feed(otto, at);
    await live.signal.until(() => old.refusals.length + outsider.refusals.length === 2, 'both refusals');
    expect(old.refusals[0]).toMatchObject({ code: 'protocol' });
    expect(outsider.refusals[0]).toMatchObject({ code: 'not-found' });
    const nonsense = [null, 7, {}, { project: 3, protocol: PROTOCOL }, { project: '../x', protocol: PROTOCOL }];
    for (const message of nonsense) outsider.socket.emit('join', message as { project: string; protocol: number });
    await live.signal.until(() => outsider.refusals.length === 2, 'the refusal of the last');
    const spec = live.document(ann, at);
    await spec.synced();
    const watcher = live.feed(ann, at);
    await watcher.joined();
    spec.set('stud.torque', 1);
    await live.signal.until(() => watcher.seq() === 2, 'the verdicts at a member');
    expect([...outsider.deltas, ...outsider.snapshots, ...old.deltas, ...old.snapshots]).toEqual([]);
    old.close();
  });

  it('does not let anybody in without a session', async () => {
    const at = await live.project(people);
    const feed = openLiveFeed({ origin: live.origin, cookie: '', project: at, signal: live.signal });
    await live.signal.until(() => feed.errors.length > 0, 'the refusal');
    expect(feed.errors[0]).toBe('not-signed-in');
    feed.close();
  });

  it('follows the later of two joins', async () => {
    const [first, second] = await Promise.all([live.project(people), live.project(people)]);
    const ann = await live.person('ann');
    const feed = live.feed(ann, first);
    await feed.joined();
    feed.socket.emit('join', { project: first, protocol: PROTOCOL });
    feed.socket.emit('join', { project: second, protocol: PROTOCOL });
    await live.signal.until(() => feed.snapshots.at(-1)?.project === second, 'the snapshot of the second');
    const heard = feed.deltas.length;
    const [a, b] = [live.document(ann, first), live.document(ann, second)];
    await Promise.all([a.synced(), b.synced()]);
    a.set('stud.torque', 3);
    await a.kept();
    b.set('stud.torque', 3);
    await live.signal.until(() => feed.deltas.length > heard && feed.seq() === 2, 'the delta of the second');
    expect(feed.snapshots.at(-1)?.project).toBe(second);
    expect(feed.deltas.slice(heard).every((d) => d.seq <= 2 && d.rev <= feed.rev())).toBe(true);
  });
});
