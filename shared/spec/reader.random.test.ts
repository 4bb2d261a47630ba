import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { seededRandom } from '../geometry/random.ts';
import type { Field } from './field.ts';
import { collections, groups, tables } from './fields.ts';
import { isCollectionKey, isGroupKey, parsePath } from './path.ts';
import { createSpecReader, readSpec, SPEC_ROOT } from './reader.ts';
import type { Spec } from './spec.ts';

function open() {
  const doc = new Y.Doc();
  return { doc, map: doc.getMap<unknown>(SPEC_ROOT), reader: createSpecReader(doc) };
}

const OPERATIONS = 2000;
const garbage = (): readonly unknown[] => [
  null,
  undefined,
  '',
  'x',
  -1,
  -0,
  Number.NaN,
  Number.NEGATIVE_INFINITY,
  1e300,
  true,
  10n,
  [1, 2],
  {},
  { si: 'no' },
  { si: 0.03, as: '30 mm' },
  { done: true, note: '', by: 'x' },
  new Uint8Array(2),
  new Y.Map(),
  new Y.Text('t'),
];

class Editor {
  private readonly random: () => number;
  constructor(random: () => number) {
    this.random = random;
  }

  pick<T>(list: readonly T[]): T {
    const at = Math.floor(this.random() * list.length);
    for (const [i, one] of list.entries()) if (i === at) return one;
    throw new Error('nothing to pick from');
  }

  private rows(): { prefix: string; rows: Readonly<Record<string, Field>> } {
    const branch = this.pick([
      ...Object.keys(groups),
      ...Object.keys(collections),
      'runners',
      'runners',
      'materials',
      'limits',
    ]);
    if (isGroupKey(branch)) return { prefix: branch, rows: groups[branch] };
    const prefix = `${branch}.e${Math.floor(this.random() * 4)}`;
    const inside: Readonly<Record<string, Readonly<Record<string, Field>>>> =
      Object.entries(tables).find(([key]) => key === branch)?.[1] ?? {};
    if (Object.keys(inside).length > 0 && this.random() < 0.6) {
      const [table, rows] = this.pick(Object.entries(inside));
      return { prefix: `${prefix}.${table}.n${Math.floor(this.random() * 4)}`, rows };
    }
    return { prefix, rows: isCollectionKey(branch) ? collections[branch] : {} };
  }

  private value(field: Field): unknown {
    if (field.kind === 'quantity') return field.min + (field.max - field.min) * this.random();
    if (field.kind === 'integer') return field.min + Math.floor(this.random() * 3);
    if (field.kind === 'choice') return this.pick(field.options);
    if (field.kind === 'number') return this.pick([0.1, -1, Number.NaN, 'no']);
    if (field.kind === 'material') return this.pick([...field.options, 'e1', 'No id']);
    return field.kind === 'sequence' ? this.pick(['1-2', '2-1', 'no']) : this.pick(['A', 'a ', 'B', 'C']);
  }

  private path(): string {
    const { prefix, rows } = this.rows();
    const key = this.pick([...Object.keys(rows), '']);
    return key === '' ? prefix : `${prefix}.${key}`;
  }

  /** One random write, deletion, garbage, row added or row removed. */
  edit(map: Y.Map<unknown>): void {
    const dice = this.random();
    if (dice < 0.45) {
      const { prefix, rows } = this.rows();
      const key = this.pick(Object.keys(rows));
      const field = rows[key];
      if (field) map.set(`${prefix}.${key}`, this.value(field));
    } else if (dice < 0.6) map.set(this.rows().prefix, Math.floor(this.random() * 3));
    else if (dice < 0.7) map.set(this.path(), this.pick(garbage()));
    else if (dice < 0.78)
      map.set(this.pick(['x', 'tube.x', 'runners', 'runners.e1.nodes', 'ticks.a', '']), this.pick(garbage()));
    else if (dice < 0.86)
      map.set(`ticks.design.t${Math.floor(this.random() * 3)}`, { done: this.random() < 0.5, note: '', by: 'ann' });
    else {
      const path = map.size > 0 ? this.pick([...map.keys()]) : 'x';
      const whole = this.random() < 0.3;
      for (const key of [...map.keys()]) if (key === path || (whole && key.startsWith(`${path}.`))) map.delete(key);
    }
  }
}

function keepsEqualParts(before: Spec, after: Spec): string | null {
  for (const [branch, part] of Object.entries(after)) {
    const old: unknown = Object.entries(before).find(([b]) => b === branch)?.[1];
    if (isDeepStrictEqual(old, part) && old !== part) return branch;
  }
  const rows = (spec: Spec) => [
    ...[spec.runners, spec.holes, spec.components, spec.joints, spec.purges].flatMap((list, i) =>
      list.map((row) => [`${i}.${row.id}`, row] as const),
    ),
    ...spec.runners.flatMap((r) => r.nodes.map((n) => [`${r.id}.nodes.${n.id}`, n] as const)),
  ];
  const olds = new Map<string, unknown>(rows(before));
  for (const [path, row] of rows(after))
    if (isDeepStrictEqual(olds.get(path), row) && olds.get(path) !== row) return path;
  return null;
}

describe.each([1, 20261125])('two peers, seed %d', (seed) => {
  it(`after each of ${OPERATIONS} operations the followed spec equals one read from scratch, and equal parts are shared`, () => {
    const editor = new Editor(seededRandom(seed));
    const random = seededRandom(seed + 1);
    const peers = [open(), open()];
    const sync = (): void => {
      for (const from of peers)
        for (const to of peers)
          if (from !== to) Y.applyUpdate(to.doc, Y.encodeStateAsUpdate(from.doc, Y.encodeStateVector(to.doc)));
    };
    sync();
    let elements = 0;
    for (let i = 0; i < OPERATIONS; i++) {
      const before = peers.map((p) => p.reader.current());
      const peer = editor.pick(peers);
      if (random() < 0.1) sync();
      else if (random() < 0.2) peer.doc.transact(() => Array.from({ length: 5 }, () => editor.edit(peer.map)));
      else editor.edit(peer.map);
      for (const [k, { reader, map }] of peers.entries()) {
        const now = reader.current();
        if (!isDeepStrictEqual(now, readSpec(map))) expect(now, `operation ${i}`).toStrictEqual(readSpec(map));
        const old = before[k];
        expect(old && keepsEqualParts(old, now), `operation ${i}`).toBeNull();
        elements += now.runners.length;
      }
    }
    sync();
    expect(peers[0]?.reader.current()).toStrictEqual(peers[1]?.reader.current());
    // The walk must have been over populated documents to mean anything.
    expect(elements).toBeGreaterThan(OPERATIONS);
    expect([...(peers[0]?.map.keys() ?? [])].filter((key) => parsePath(key)).length).toBeGreaterThan(20);
  });
});
