import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { policies } from '../../server/rooms/policies.ts';
import { Intake } from '../../server/sync/intake.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';
import { baseEntries } from '../support/baseSpec.ts';

const seed = Number(process.env.FUZZ_SEED ?? 1);
const updates = Number(process.env.FUZZ_UPDATES ?? 2000);
/** Longest that one take() may hold the main thread, ms. */
const STALL_MS = 50;
const RSS_GROWTH = 256 * 1024 * 1024;

const keys = ['stud.torque', 'engine.lambda', 'project.title', 'runners.r1', 'runners.r1.nodes.n2.y', 'components.c9'];
const values = [1, 0.5, -3, { si: 0.03, as: '30 mm' }, 'a text', 1e9];

/** Updates known to have stalled or killed a server that hands them to Yjs, hex. */
const known = ['01f9a3e6042a2800', '0001ffffffff0f', '01ffffffff0f0100', '0101070000ffffffffffffff0700', '0000', ''];

function pick<T>(random: () => number, list: readonly T[]): T {
  const one = list[Math.floor(random() * list.length)];
  if (one === undefined) throw new Error('nothing to pick from');
  return one;
}

/** Changes, removes, repeats or adds bytes, or cuts the end off. */
function mutate(random: () => number, genuine: Uint8Array): Uint8Array {
  const bytes = [...genuine];
  for (let n = 1 + Math.floor(random() * 4); n > 0; n--) {
    const at = Math.floor(random() * bytes.length);
    const act = random();
    if (act < 0.5) bytes[at] = Math.floor(random() * 256);
    else if (act < 0.6) bytes[at] = pick(random, [0, 1, 127, 128, 255, 8, 10, 0x28, 0xa8, 0x68, 0x21]);
    else if (act < 0.7) bytes.splice(at, 1 + Math.floor(random() * 4));
    else if (act < 0.8) bytes.splice(at, 0, ...bytes.slice(at, at + Math.floor(random() * 12)));
    else if (act < 0.9) bytes.splice(at, 0, 255, 255, 255, 255, Math.floor(random() * 16));
    else bytes.length = at;
  }
  return Uint8Array.from(bytes);
}

/** A client that has what the server has, or half of it, and edits. */
function edited(random: () => number, live: Y.Doc): Uint8Array {
  const doc = new Y.Doc({ gc: random() < 0.7 });
  doc.clientID = Math.floor(random() * 2 ** 32);
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(live));
  const before = Y.encodeStateVector(doc);
  const map = doc.getMap<unknown>(SPEC_ROOT);
  const undo = new Y.UndoManager(map, { captureTimeout: 0 });
  for (let n = 1 + Math.floor(random() * 5); n > 0; n--) {
    const act = random();
    if (act < 0.7) map.set(pick(random, keys), pick(random, values));
    else if (act < 0.85) map.delete(pick(random, keys));
    else undo.undo();
  }
  undo.destroy();
  return random() < 0.1 ? Y.encodeStateAsUpdate(doc) : Y.encodeStateAsUpdate(doc, before);
}

const content = (doc: Y.Doc): string =>
  JSON.stringify([...doc.getMap(SPEC_ROOT).entries()].sort(([a], [b]) => (a < b ? -1 : 1)));

function bench() {
  const live = new Y.Doc();
  const owners = new Map<number, string>();
  const kept: Uint8Array[] = [];
  const intake = new Intake(live, {
    ...{ policy: policies.spec, seq: 0, applied: () => undefined },
    owners: { owner: (c) => owners.get(c), claim: async (c, account) => void owners.set(c, account) },
    append: async (update) => kept.push(update),
  });
  /** Takes an update and gives how long the call held the thread. */
  const take = async (update: Uint8Array) => {
    const start = performance.now();
    const taking = intake.take(update, { account: 'ann', from: null, canWrite: true });
    const held = performance.now() - start;
    return { held, result: await taking };
  };
  return { live, kept, take };
}

function replayed(kept: readonly Uint8Array[]): Y.Doc {
  const doc = new Y.Doc();
  for (const update of kept) Y.applyUpdate(doc, update);
  return doc;
}

/** How long it holds the thread when nothing else gets in the way: the least of five. */
async function leastHeld(kept: readonly Uint8Array[], update: Uint8Array): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i < 5; i++) {
    const again = bench();
    for (const one of kept) await again.take(one);
    times.push((await again.take(update)).held);
  }
  return Math.min(...times);
}

describe('update intake', () => {
  it(`stands ${updates} mutated updates, seed ${seed} (FUZZ_SEED, FUZZ_UPDATES)`, async () => {
    const random = seededRandom(seed);
    const codes = new Map<string, number>();
    const rss = process.memoryUsage().rss;
    let under = bench();
    let longest = 0;
    const restart = async () => {
      under = bench();
      const doc = new Y.Doc();
      for (const [key, value] of baseEntries()) doc.getMap<unknown>(SPEC_ROOT).set(key, value);
      expect((await under.take(Y.encodeStateAsUpdate(doc))).result).toBe(1);
    };
    await restart();
    for (let i = 0; i < updates; i++) {
      const genuine = edited(random, under.live);
      const hostile = i < known.length ? Buffer.from(known[i] ?? '', 'hex') : mutate(random, genuine);
      const update = random() < 0.15 ? genuine : hostile;
      const before = { content: content(under.live), writes: under.kept.length };
      const { held, result } = await under.take(update);
      const code = typeof result === 'number' ? 'taken' : result.code;
      codes.set(code, (codes.get(code) ?? 0) + 1);
      const name = `update ${i}: ${Buffer.from(update).toString('hex')}`;
      if (typeof result !== 'number')
        expect([content(under.live), under.kept.length], name).toEqual(Object.values(before));
      if (held > STALL_MS) expect(await leastHeld(under.kept, update), name).toBeLessThan(STALL_MS);
      longest = Math.max(longest, held);
      expect(under.live.store.pendingStructs, name).toBeNull();
      if (i % 200 === 199) {
        expect(content(replayed(under.kept)), name).toBe(content(under.live));
        await restart();
      }
    }
    console.log(`seed ${seed}: ${updates} updates, ${JSON.stringify([...codes])}, longest ${longest.toFixed(1)} ms`);
    expect(codes.get('malformed') ?? 0).toBeGreaterThan(updates / 4);
    expect(codes.get('taken') ?? 0).toBeGreaterThan(updates / 10);
    expect(process.memoryUsage().rss - rss).toBeLessThan(RSS_GROWTH);
  }, 3_600_000);
});
