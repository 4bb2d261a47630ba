import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { mergeCost, type Placed } from './mergeCost.ts';
import { checkUpdate } from './updateGate.ts';

const ROOT = 'spec';
const BUDGET = 300_000;

function client(id: number, from?: Y.Doc) {
  const doc = new Y.Doc();
  doc.clientID = id;
  if (from) Y.applyUpdate(doc, Y.encodeStateAsUpdate(from));
  return { doc, map: doc.getMap<unknown>(ROOT) };
}

function itemsOf(update: Uint8Array, into: Y.Doc): readonly Placed[] {
  const checked = checkUpdate(update, { root: ROOT, clockOf: (c) => Y.getState(into.store, c) });
  if (!checked.ok) throw new Error(checked.reason);
  return checked.summary.items;
}
const costOf = (update: Uint8Array, into: Y.Doc): number => mergeCost(into, ROOT, itemsOf(update, into), BUDGET);
const at = (client_: number, clock: number, over: Partial<Placed>): Placed => ({
  ...{ client: client_, clock, length: 1, left: null, right: null, key: null },
  ...over,
});

/** Two keys in turn, so that overwritten entries do not melt into one run. */
function drag(map: Y.Map<unknown>, steps: number): void {
  for (let i = 0; i < steps; i++) {
    map.set('x', i);
    map.set('y', i);
  }
}

describe('cost of placing the items of an update', () => {
  it('is next to nothing for edits on the newest entries, however many', () => {
    const server = new Y.Doc();
    const a = client(5);
    drag(a.map, 3000);
    expect(costOf(Y.encodeStateAsUpdate(a.doc), server)).toBe(0);
    Y.applyUpdate(server, Y.encodeStateAsUpdate(a.doc));
    const b = client(6, server);
    const before = Y.encodeStateVector(b.doc);
    drag(b.map, 3000);
    expect(costOf(Y.encodeStateAsUpdate(b.doc, before), server)).toBe(0);
    expect(costOf(Y.encodeStateAsUpdate(server), server)).toBe(0);
  });

  it.each([3, 9])('is a walk past the others for a long drag off line while others dragged too (client %i)', (id) => {
    const server = new Y.Doc();
    const a = client(5);
    drag(a.map, 10);
    Y.applyUpdate(server, Y.encodeStateAsUpdate(a.doc));
    const b = client(id, server);
    const before = Y.encodeStateVector(b.doc);
    drag(a.map, 2000);
    drag(b.map, 2000);
    Y.applyUpdate(server, Y.encodeStateAsUpdate(a.doc, Y.encodeStateVector(server)));
    const cost = costOf(Y.encodeStateAsUpdate(b.doc, before), server);
    expect(cost).toBeGreaterThan(3000);
    expect(cost).toBeLessThan(20_000);
  });

  it('is over any budget for many items on entries overwritten long ago', () => {
    const server = new Y.Doc();
    const a = client(5);
    drag(a.map, 3000);
    Y.applyUpdate(server, Y.encodeStateAsUpdate(a.doc));
    const old = (n: number) => Array.from({ length: n }, (_, i) => at(9, i, { left: { client: 5, clock: 0 } }));
    expect(mergeCost(server, ROOT, old(20), BUDGET)).toBeLessThan(BUDGET);
    expect(mergeCost(server, ROOT, old(2000), BUDGET)).toBeGreaterThan(BUDGET);
    const start = Array.from({ length: 2000 }, (_, i) => at(9, i, { key: 'x' }));
    expect(mergeCost(server, ROOT, start, BUDGET)).toBeGreaterThan(BUDGET);
    const right = Array.from({ length: 2000 }, (_, i) => at(9, i, { right: { client: 5, clock: 0 } }));
    expect(mergeCost(server, ROOT, right, BUDGET)).toBeGreaterThan(BUDGET);
  });

  it('counts items inside a run of the same update, in whatever order the clients come', () => {
    const run = at(99, 0, { length: 900_000, key: 'x' });
    const inside = Array.from({ length: 5000 }, (_, i) => at(5, i, { left: { client: 99, clock: 40 * i + 20 } }));
    for (const items of [
      [run, ...inside],
      [...inside, run],
    ])
      expect(mergeCost(new Y.Doc(), ROOT, items, BUDGET)).toBeGreaterThan(BUDGET);
  });

  it('ends for items that wait for each other', () => {
    const items = [at(1, 0, { left: { client: 2, clock: 0 } }), at(2, 0, { left: { client: 1, clock: 0 } })];
    expect(mergeCost(new Y.Doc(), ROOT, items, BUDGET)).toBeLessThan(10);
    const turns = Array.from({ length: 4000 }, (_, i) => [
      i === 0 ? at(1, 0, { key: 'x' }) : at(1, i, { left: { client: 2, clock: i - 1 } }),
      at(2, i, { left: { client: 1, clock: i } }),
    ]).flat();
    const ordered = [...turns].sort((p, q) => q.client - p.client || p.clock - q.clock);
    expect(mergeCost(new Y.Doc(), ROOT, ordered, BUDGET)).toBeLessThan(20_000);
    const ring = Array.from({ length: 5000 }, (_, i) => at(i, 0, { left: { client: (i + 1) % 5000, clock: 0 } }));
    expect(mergeCost(new Y.Doc(), ROOT, ring, BUDGET)).toBeLessThanOrEqual(BUDGET + 1);
  });
});
