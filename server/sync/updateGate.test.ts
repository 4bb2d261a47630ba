import * as encoding from 'lib0/encoding';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { seededRandom } from '../../shared/geometry/random.ts';
import { checkUpdate, type GateResult } from './updateGate.ts';

const ROOT = 'spec';
const check = (update: Uint8Array, into = new Y.Doc()): GateResult =>
  checkUpdate(update, { root: ROOT, clockOf: (client) => Y.getState(into.store, client) });
const kindOf = (result: GateResult): string => (result.ok ? 'ok' : result.kind);

type Write = (e: encoding.Encoder) => void;
const bytes = (write: Write): Uint8Array => {
  const e = encoding.createEncoder();
  write(e);
  return encoding.toUint8Array(e);
};
const uints =
  (...numbers: number[]): Write =>
  (e) => {
    for (const n of numbers) encoding.writeVarUint(e, n);
  };
const all =
  (...parts: Write[]): Write =>
  (e) => {
    for (const part of parts) part(e);
  };
const text =
  (t: string): Write =>
  (e) =>
    encoding.writeVarString(e, t);
const byte =
  (b: number): Write =>
  (e) =>
    encoding.write(e, b);
const any =
  (value: unknown): Write =>
  (e) =>
    encoding.writeAny(e, value as Parameters<typeof encoding.writeAny>[1]);

/** One client that brings these structs from clock 0, and no deletions. */
const from = (client: number, structs: readonly Write[], clock = 0): Uint8Array =>
  bytes(all(uints(1, structs.length, client, clock), ...structs, uints(0)));
/** An item of one value under a key of the root. */
const entry = (value: Write, { root = ROOT, key = 'k', info = 0x28, values = 1 } = {}): Write =>
  all(byte(info), uints(1), text(root), info & 32 ? text(key) : () => undefined, uints(values), value);

describe('update gate: genuine updates', () => {
  /** Random edits of a map: sets, deletes, transactions of several, undo and redo. */
  function editor(seed: number, gc: boolean) {
    const random = seededRandom(seed);
    const doc = new Y.Doc({ gc });
    doc.clientID = Math.floor(random() * 2 ** 32);
    const map = doc.getMap<unknown>(ROOT);
    const undo = new Y.UndoManager(map, { captureTimeout: random() < 0.5 ? 0 : 500 });
    const values = [1, -7, 0.123, 1e300, 'text', 'é🔩', true, false, null, { si: 0.03, as: '30 mm' }, [1, 2, [3]]];
    const key = () => `key.${Math.floor(random() * 6)}`;
    const set = () => map.set(key(), values[Math.floor(random() * values.length)]);
    const acts = [
      set,
      set,
      () => map.delete(key()),
      () => undo.undo(),
      () => undo.redo(),
      () =>
        doc.transact(() => {
          for (let i = 0; i < 4; i++) set();
        }),
    ];
    return { doc, random, act: () => acts[Math.floor(random() * acts.length)]?.() };
  }

  it.each([
    ['gc', true],
    ['no gc', false],
  ])('accepts every single update of 40 seeded editors, %s', (_name, gc) => {
    let accepted = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const { doc, act } = editor(seed, gc);
      const server = new Y.Doc();
      doc.on('update', (update: Uint8Array) => {
        const result = check(update, server);
        expect(result, `seed ${seed}`).toMatchObject({ ok: true });
        Y.applyUpdate(server, update);
        expect(server.store.pendingStructs).toBeNull();
        accepted += 1;
      });
      for (let i = 0; i < 80; i++) act();
      expect(server.getMap(ROOT).toJSON()).toEqual(doc.getMap(ROOT).toJSON());
    }
    expect(accepted).toBeGreaterThan(1500);
  });

  it('accepts whole states, differences and merged updates of peers that edit apart and meet again', () => {
    let accepted = 0;
    for (let seed = 1; seed <= 30; seed++) {
      const peers = [editor(seed * 3, true), editor(seed * 3 + 1, false), editor(seed * 3 + 2, true)];
      const server = new Y.Doc();
      const take = (update: Uint8Array) => {
        expect(check(update, server), `seed ${seed}`).toMatchObject({ ok: true });
        Y.applyUpdate(server, update);
        accepted += 1;
      };
      for (let round = 0; round < 8; round++) {
        for (const { doc, act, random } of peers) {
          const offline: Uint8Array[] = [];
          const note = (update: Uint8Array) => void offline.push(update);
          doc.on('update', note);
          for (let i = 0; i < 10; i++) act();
          doc.off('update', note);
          const way = random();
          if (way < 0.3) for (const update of offline) take(update);
          else if (way < 0.6 && offline.length > 0) take(Y.mergeUpdates(offline));
          else take(Y.encodeStateAsUpdate(doc, Y.encodeStateVector(server)));
          take(Y.encodeStateAsUpdate(doc));
          Y.applyUpdate(doc, Y.encodeStateAsUpdate(server, Y.encodeStateVector(doc)));
        }
      }
      expect(check(Y.encodeStateAsUpdate(server))).toMatchObject({ ok: true });
    }
    expect(accepted).toBeGreaterThan(1000);
  });

  it('names clients that gain clocks and what is deleted', () => {
    const doc = new Y.Doc();
    const map = doc.getMap(ROOT);
    map.set('a', 1);
    const server = new Y.Doc();
    const first = Y.encodeStateAsUpdate(doc);
    expect(check(first, server)).toMatchObject({
      ok: true,
      summary: { clients: [doc.clientID], structs: 1, deletions: [] },
    });
    Y.applyUpdate(server, first);
    expect(check(first, server)).toMatchObject({ summary: { clients: [] } });
    map.delete('a');
    expect(check(Y.encodeStateAsUpdate(doc, Y.encodeStateVector(server)), server)).toMatchObject({
      summary: { clients: [], structs: 0, deletions: [{ client: doc.clientID, from: 0, to: 1 }] },
    });
    expect(check(Uint8Array.of(0, 0))).toMatchObject({ summary: { clients: [], deletions: [] } });
  });
});

describe('update gate: hostile updates', () => {
  const ok = entry(any(1));
  const deletions = (...parts: Write[]): Uint8Array => bytes(all(uints(0), ...parts));
  const nested = (depth: number): unknown => (depth === 0 ? 1 : [nested(depth - 1)]);
  const base = new Y.Doc();
  Y.applyUpdate(base, from(7, [ok, entry(any(2), { key: 'l' }), entry(any(3), { key: 'm' })]));

  it('takes what these are made of', () => {
    expect(kindOf(check(from(7, [ok])))).toBe('ok');
    expect(base.getMap(ROOT).toJSON()).toEqual({ k: 1, l: 2, m: 3 });
  });

  it.each<[string, Uint8Array, string]>([
    ['nothing at all', Uint8Array.of(), 'malformed'],
    ['the 8 bytes that cost 0.7 s', Buffer.from('01f9a3e6042a2800', 'hex'), 'malformed'],
    ['2^31 structs with no bytes behind', bytes(uints(1, 2 ** 31, 7, 0)), 'malformed'],
    ['more structs than bytes', bytes(all(uints(1, 9, 7, 0), ok, uints(0))), 'malformed'],
    ['a client that brings no struct', bytes(uints(1, 0, 7, 0, 0)), 'malformed'],
    ['2^32 deleting clients', bytes(uints(0, 2 ** 32)), 'malformed'],
    ['2^32 deletions', bytes(uints(0, 1, 7, 2 ** 32)), 'malformed'],
    ['2^31 values in one item', from(7, [entry(() => undefined, { values: 2 ** 31 })]), 'malformed'],
    ['a skip', from(7, [all(byte(10), uints(5))]), 'malformed'],
    ['garbage of length 2^52', from(7, [all(byte(0), uints(2 ** 52))]), 'limit'],
    ['garbage of length 0', from(7, [all(byte(0), uints(0))]), 'malformed'],
    ['deleted content of length 2^50', from(7, [entry(uints(2 ** 50), { info: 0x21, values: 0 })]), 'malformed'],
    ['a number longer than 8 bytes', bytes(all(...Array.from({ length: 9 }, () => byte(255)))), 'malformed'],
    ['a client id of 2^53 - 1', from(2 ** 53 - 1, [ok]), 'malformed'],
    ['a clock of 2^50', from(99, [ok], 2 ** 50), 'gap'],
    ['a foreign root', from(7, [entry(any(1), { root: 'other' })]), 'malformed'],
    ['a list entry', from(7, [entry(any(1), { info: 8 })]), 'malformed'],
    ['a nested parent', from(7, [all(byte(0x28), uints(0, 7, 0), text('k'), uints(1), any(1))]), 'malformed'],
    ['JSON content', from(7, [all(byte(0x22), uints(1), text(ROOT), text('k'), uints(1), text('1'))]), 'malformed'],
    ['binary content', from(7, [all(byte(0x23), uints(1), text(ROOT), text('k'), uints(1, 0))]), 'malformed'],
    ['string content', from(7, [all(byte(0x24), uints(1), text(ROOT), text('k'), text('abc'))]), 'malformed'],
    ['an embed', from(7, [all(byte(0x25), uints(1), text(ROOT), text('k'), text('{}'))]), 'malformed'],
    ['a format mark', from(7, [all(byte(0x26), uints(1), text(ROOT), text('k'), text('b'), text('1'))]), 'malformed'],
    ['a shared type', from(7, [all(byte(0x27), uints(1), text(ROOT), text('k'), uints(1))]), 'malformed'],
    ['a subdocument', from(7, [all(byte(0x29), uints(1), text(ROOT), text('k'), text('id'), any({}))]), 'malformed'],
    ['a value nested 6 deep', from(7, [entry(any(nested(6)))]), 'limit'],
    ['a value nested 5,000 deep', from(7, [entry(any(nested(5000)))]), 'limit'],
    ['a __proto__ member', from(7, [entry(all(byte(118), uints(1), text('__proto__'), any(1)))]), 'malformed'],
    ['a constructor member', from(7, [entry(any({ constructor: 1 }))]), 'malformed'],
    ['undefined', from(7, [entry(any(undefined))]), 'malformed'],
    ['a big integer', from(7, [entry(any(5n))]), 'malformed'],
    ['bytes as value', from(7, [entry(any(Uint8Array.of(1, 2)))]), 'malformed'],
    ['a value type of none', from(7, [entry(byte(1))]), 'malformed'],
    ['a text longer than the update', from(7, [entry(all(byte(119), uints(5000), byte(65)))]), 'malformed'],
    ['a key of 201 bytes', from(7, [entry(any(1), { key: 'k'.repeat(201) })]), 'limit'],
    ['several values under one key', from(7, [entry(all(any(1), any(2)), { values: 2 })]), 'malformed'],
    ['trailing bytes', Uint8Array.of(...from(7, [ok]), 0), 'malformed'],
    ['a client twice', bytes(all(uints(2, 1, 7, 0), ok, uints(1, 7, 1), ok, uints(0))), 'malformed'],
    ['a gap in the clocks', from(7, [ok], 1), 'gap'],
    ['an origin nobody has', from(7, [all(byte(0xa8), uints(9, 3, 1), any(1))]), 'gap'],
    ['a right origin nobody has', from(7, [all(byte(0x68), uints(9, 3, 1), any(1))]), 'gap'],
    ['an origin in its own future', from(7, [all(byte(0xa8), uints(7, 0, 1), any(1))]), 'malformed'],
    ['deletions beyond the document', deletions(uints(1, 7, 1, 0, 2 ** 40)), 'gap'],
    ['deletions of a stranger', deletions(uints(1, 5, 1, 0, 1)), 'gap'],
    ['deletions out of order', deletions(uints(1, 7, 2, 1, 1, 0, 1)), 'malformed'],
    ['overlapping deletions', deletions(uints(1, 7, 2, 0, 2, 1, 2)), 'malformed'],
    ['a deletion of nothing', deletions(uints(1, 7, 1, 0, 0)), 'malformed'],
    ['deletions of a client twice', deletions(uints(2, 7, 1, 0, 1, 7, 1, 1, 1)), 'malformed'],
    ['300 kB', new Uint8Array(300_000), 'limit'],
  ])('refuses %s', (_name, update, kind) => {
    expect(kindOf(check(update, new Y.Doc()))).toBe(kind);
  });

  it('refuses a change of which a part is known', () => {
    const deleted = bytes(all(uints(1, 1, 7, 1, 0x21, 1), text(ROOT), text('z'), uints(5, 0)));
    expect(kindOf(check(deleted, base))).toBe('gap');
  });

  it.each([
    [
      '12,000 clients',
      bytes(all(uints(12_000), ...Array.from({ length: 12_000 }, (_, i) => all(uints(1, i + 1, 0), ok)), uints(0))),
    ],
    [
      '60,000 overlapping deletions',
      deletions(uints(1, 7, 60_000), ...Array.from({ length: 60_000 }, () => uints(0, 3))),
    ],
    [
      '60,000 deletions in order',
      deletions(uints(1, 7, 60_000), ...Array.from({ length: 60_000 }, (_, i) => uints(i, 1))),
    ],
    [
      '25,000 structs',
      from(
        7,
        Array.from({ length: 25_000 }, () => all(byte(0), uints(1))),
      ),
    ],
  ])('answers %s in well under 50 ms', (_name, update) => {
    check(update, base);
    const start = performance.now();
    const result = check(update, base);
    expect(performance.now() - start).toBeLessThan(50);
    expect(['ok', 'limit', 'malformed', 'gap']).toContain(kindOf(result));
  });

  it('never throws: 20,000 seeded mutations and truncations of genuine updates', () => {
    const random = seededRandom(11);
    const doc = new Y.Doc();
    for (let i = 0; i < 30; i++) doc.getMap<unknown>(ROOT).set(`k${i % 7}`, { si: i, as: `${i} mm` });
    const genuine = Y.encodeStateAsUpdate(doc);
    const kinds = new Map<string, number>();
    for (let i = 0; i < 20_000; i++) {
      const mutated = Uint8Array.from(
        genuine.subarray(0, random() < 0.3 ? Math.floor(random() * genuine.length) : undefined),
      );
      for (let n = Math.ceil(random() * 3); n > 0; n--)
        if (mutated.length > 0) mutated[Math.floor(random() * mutated.length)] = Math.floor(random() * 256);
      const kind = kindOf(check(mutated));
      kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    }
    expect([...kinds.values()].reduce((a, b) => a + b, 0)).toBe(20_000);
    expect(kinds.get('malformed')).toBeGreaterThan(5_000);
  });
});
