import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Intake, type IntakePolicy, type Refused } from './intake.ts';

const ROOT = 'spec';
const policy: IntakePolicy = {
  root: ROOT,
  allow: ({ key, after }) =>
    key.startsWith('no') ? `"${key}" is not for you` : after === 'bad' ? 'a bad value' : null,
};

interface Append {
  readonly update: Uint8Array;
  readonly account: string;
  readonly resolve: (seq: number) => void;
  readonly reject: (error: Error) => void;
}

/** An intake whose journal and claims answer when the test says so. */
function bench(options: { readonly byHand?: boolean; readonly claimsByHand?: boolean } = {}) {
  const live = new Y.Doc();
  const owners = new Map<number, string>();
  const appends: Append[] = [];
  const claims: { client: number; resolve: () => void; reject: (error: Error) => void }[] = [];
  const applied: { seq: number; from: unknown }[] = [];
  let seq = 10;
  const intake = new Intake(live, {
    policy,
    seq: 10,
    owners: {
      owner: (client) => owners.get(client),
      claim: (client, account) => {
        owners.set(client, account);
        if (!options.claimsByHand) return Promise.resolve();
        return new Promise<void>((resolve, reject) => {
          claims.push({
            ...{ client, resolve },
            reject: (error) => {
              owners.delete(client);
              reject(error);
            },
          });
        });
      },
    },
    append: (update, account) =>
      new Promise((resolve, reject) => {
        appends.push({ update, account, resolve, reject });
        if (!options.byHand) resolve(++seq);
      }),
    applied: (_update, from, n) => void applied.push({ seq: n, from }),
  });
  const take = (update: Uint8Array, account = 'ann', canWrite = true) =>
    intake.take(update, { account, from: account, canWrite });
  return { live, intake, owners, appends, claims, applied, take };
}

/** A client's document and the updates it makes. */
function client(id?: number) {
  const doc = new Y.Doc();
  if (id !== undefined) doc.clientID = id;
  const made: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => void made.push(update));
  const map = doc.getMap<unknown>(ROOT);
  const set = (key: string, value: unknown): Uint8Array => {
    map.set(key, value);
    return made.at(-1) ?? new Uint8Array();
  };
  const remove = (key: string): Uint8Array => {
    map.delete(key);
    return made.at(-1) ?? new Uint8Array();
  };
  return { doc, map, set, remove };
}

const content = (doc: Y.Doc): unknown => doc.getMap(ROOT).toJSON();
const code = (result: number | Refused): unknown => (typeof result === 'number' ? result : result.code);
const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe('intake', () => {
  it('applies, numbers and reports in order', async () => {
    const { live, take, applied } = bench();
    const a = client();
    expect(await Promise.all([take(a.set('x', 1)), take(a.set('y', 2)), take(a.set('x', 3))])).toEqual([11, 12, 13]);
    expect(content(live)).toEqual({ x: 3, y: 2 });
    expect(applied.map((one) => one.seq)).toEqual([11, 12, 13]);
  });

  it('holds nothing in the live document that is not on disk', async () => {
    const { live, take, appends, intake } = bench({ byHand: true });
    const a = client();
    const first = take(a.set('x', 1));
    const second = take(a.set('x', 2));
    await turn();
    expect(appends).toHaveLength(2);
    expect(content(live)).toEqual({});
    expect(intake.busy()).toBe(true);
    appends[0]?.resolve(11);
    expect(await first).toBe(11);
    expect(content(live)).toEqual({ x: 1 });
    appends[1]?.resolve(12);
    expect(await second).toBe(12);
    expect(intake.busy()).toBe(false);
  });

  it('keeps the order when the disk answers out of order', async () => {
    const { live, take, appends, applied } = bench({ byHand: true });
    const a = client();
    const results = [take(a.set('x', 1)), take(a.set('x', 2))];
    await turn();
    appends[1]?.resolve(12);
    await turn();
    expect(content(live)).toEqual({});
    appends[0]?.resolve(11);
    expect(await Promise.all(results)).toEqual([11, 12]);
    expect(applied.map((one) => one.seq)).toEqual([11, 12]);
    expect(live.store.pendingStructs).toBeNull();
  });

  it('lets no update reach the disk before its author is known there, nor one overtake it', async () => {
    const { take, appends, claims, live } = bench({ claimsByHand: true });
    const a = client();
    const first = take(a.set('x', 1));
    const second = take(a.set('x', 2));
    await turn();
    expect(claims).toHaveLength(1);
    expect(appends).toHaveLength(0);
    claims[0]?.resolve();
    expect(await Promise.all([first, second])).toEqual([11, 12]);
    expect(content(live)).toEqual({ x: 2 });
  });

  it('refuses what stood behind a failed claim, keeps nothing of it, and goes on', async () => {
    const { take, appends, claims, live } = bench({ claimsByHand: true });
    const [a, b] = [client(), client()];
    const waiting = [take(a.set('x', 1)), take(a.set('x', 2)), take(b.set('y', 1), 'bob')];
    claims[0]?.reject(new Error('disk'));
    expect((await Promise.all(waiting)).map(code)).toEqual(['not-kept', 'not-kept', 'not-kept']);
    expect(appends).toHaveLength(0);
    expect(content(live)).toEqual({});
    const again = take(Y.encodeStateAsUpdate(a.doc));
    claims.at(-1)?.resolve();
    expect(await again).toBe(11);
    expect(content(live)).toEqual({ x: 2 });
  });

  it('lets an introduced client write without waiting for a claim of its first edit', async () => {
    const { take, claims, intake, owners } = bench({ claimsByHand: true });
    const a = client();
    intake.introduce(a.doc.clientID, 'ann');
    claims[0]?.resolve();
    await turn();
    expect(owners.get(a.doc.clientID)).toBe('ann');
    expect(await take(a.set('x', 1))).toBe(11);
    expect(claims).toHaveLength(1);
  });

  it('answers not-kept when the journal fails, then works from the live state', async () => {
    const { live, take, appends } = bench({ byHand: true });
    const a = client();
    const good = take(a.set('x', 1));
    await turn();
    appends[0]?.resolve(11);
    await good;
    const lost = [take(a.set('x', 2)), take(a.set('x', 3))];
    await turn();
    for (const one of appends.slice(1)) one.reject(new Error('no space'));
    expect((await Promise.all(lost)).map(code)).toEqual(['not-kept', 'not-kept']);
    expect(content(live)).toEqual({ x: 1 });
    expect(code(await take(a.set('x', 4)))).toBe('gap');
    const resent = take(Y.encodeStateAsUpdate(a.doc, Y.encodeStateVector(live)));
    await turn();
    appends.at(-1)?.resolve(12);
    expect(await resent).toBe(12);
    expect(content(live)).toEqual({ x: 4 });
  });

  it('keeps no update that was made on top of one that failed, even if the disk is well again', async () => {
    const { live, take, appends, claims } = bench({ byHand: true, claimsByHand: true });
    const [a, b] = [client(), client()];
    const first = take(a.set('x', 1));
    claims[0]?.resolve();
    await turn();
    const behind = take(b.set('y', 1), 'bob');
    appends[0]?.reject(new Error('no space'));
    expect(code(await first)).toBe('not-kept');
    claims[1]?.resolve();
    expect(code(await behind)).toBe('not-kept');
    expect(appends).toHaveLength(1);
    expect(content(live)).toEqual({});
  });

  it('refuses another account under a used client id', async () => {
    const { take, live } = bench();
    const [victim, forger] = [client(77), client(77)];
    await take(victim.set('x', 'mine'));
    forger.map.set('x', 'theirs');
    expect(code(await take(forger.set('y', 'theirs'), 'mallory'))).toBe('forged');
    expect(code(await take(Y.encodeStateAsUpdate(forger.doc), 'mallory'))).toBe('forged');
    expect(content(live)).toEqual({ x: 'mine' });
    expect(await take(victim.set('z', 1))).toBe(12);
  });

  it('leaves the live document untouched by what policy refuses; later good updates still work', async () => {
    const { take, live } = bench();
    const [a, b] = [client(), client()];
    await take(a.set('x', 1));
    const before = Y.encodeStateAsUpdate(live);
    for (const update of [b.set('no.way', 1), client().set('w', 'bad')])
      expect(code(await take(update, 'bob'))).toBe('not-allowed');
    expect(Y.encodeStateAsUpdate(live)).toEqual(before);
    expect(code(await take(b.set('y', 1), 'bob'))).toBe('gap');
    expect(await take(client().set('y', 5), 'bob')).toBe(12);
    expect(await take(a.set('x', 2))).toBe(13);
    expect(content(live)).toEqual({ x: 2, y: 5 });
  });

  it('looks at every entry of a transaction, and at what undo would bring back', async () => {
    const { take, live } = bench();
    const a = client();
    a.doc.transact(() => {
      a.map.set('x', 1);
      a.map.set('no.1', 1);
      a.map.set('y', 1);
    });
    expect(code(await take(Y.encodeStateAsUpdate(a.doc)))).toBe('not-allowed');
    expect(content(live)).toEqual({});
  });

  it('never half applies: an update whose deletions are cut off changes nothing', async () => {
    const { take, live } = bench();
    const a = client();
    await take(a.set('x', 'old'));
    const update = a.set('x', 'new');
    for (let length = 0; length < update.length; length++)
      expect(typeof (await take(update.subarray(0, length))), `cut to ${length}`).toBe('object');
    expect(content(live)).toEqual({ x: 'old' });
    expect(await take(update)).toBe(12);
    expect(content(live)).toEqual({ x: 'new' });
  });

  it('does not write down what changes nothing, and answers it only when what it repeats is safe', async () => {
    const { take, appends } = bench({ byHand: true });
    const a = client();
    const update = a.set('x', 1);
    const first = take(update);
    const repeated = take(update);
    let answered = false;
    void repeated.then(() => {
      answered = true;
    });
    await turn();
    expect(answered).toBe(false);
    appends[0]?.resolve(11);
    expect(await Promise.all([first, repeated])).toEqual([11, 11]);
    expect(await take(Uint8Array.of(0, 0))).toBe(11);
    expect(appends).toHaveLength(1);
  });

  it('takes from a reader what changes nothing, such as deletions the document has, and nothing else', async () => {
    const { take, live, appends } = bench();
    const a = client();
    await take(a.set('x', 1));
    await take(a.remove('x'));
    await take(a.set('y', 1));
    const reader = client();
    Y.applyUpdate(reader.doc, Y.encodeStateAsUpdate(live));
    const comesBack = Y.encodeStateAsUpdate(reader.doc, Y.encodeStateVector(live));
    expect(comesBack.length).toBeGreaterThan(2);
    expect(await take(comesBack, 'rita', false)).toBe(13);
    expect(code(await take(reader.remove('y'), 'rita', false))).toBe('not-allowed');
    expect(code(await take(reader.set('z', 1), 'rita', false))).toBe('not-allowed');
    expect(appends).toHaveLength(3);
    expect(content(live)).toEqual({ y: 1 });
  });

  it('refuses more than 500 new client ids at once', async () => {
    const { take } = bench();
    const merged = new Y.Doc();
    for (let i = 1; i <= 501; i++) Y.applyUpdate(merged, Y.encodeStateAsUpdate(client(i).doc));
    const many = Array.from({ length: 501 }, (_, i) => client(i + 1).set(`k${i}`, 1));
    expect(code(await take(Y.mergeUpdates(many)))).toBe('limit');
    expect(await take(Y.mergeUpdates(many.slice(1)))).toBe(11);
  });

  it('takes from many at once and stays equal to a replay of what it wrote down', async () => {
    const { take, live, appends } = bench();
    const people = Array.from({ length: 8 }, (_, i) => ({ ...client(), account: `p${i}` }));
    const results: Promise<number | Refused>[] = [];
    for (let round = 0; round < 30; round++)
      for (const [i, person] of people.entries()) {
        results.push(take(person.set(`k${(round + i) % 5}`, round), person.account));
        if (round % 7 === i) Y.applyUpdate(person.doc, Y.encodeStateAsUpdate(live));
      }
    expect((await Promise.all(results)).every((r) => typeof r === 'number')).toBe(true);
    const replay = new Y.Doc();
    for (const { update } of appends) Y.applyUpdate(replay, update);
    expect(content(replay)).toEqual(content(live));
    expect(replay.store.pendingStructs).toBeNull();
  });
});
