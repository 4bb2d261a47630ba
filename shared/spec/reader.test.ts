import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { collections, groups } from './fields.ts';
import { isCollectionKey, isGroupKey } from './path.ts';
import { createSpecReader, readSpec, SPEC_ROOT } from './reader.ts';
import type { Spec } from './spec.ts';

const small: Readonly<Record<string, unknown>> = {
  'tube.wall': 0.002,
  'tube.alloy': '625',
  'engine.firingOrder': '1-2',
  'runners.r1': 1,
  'runners.r1.name': 'Runner 1',
  'runners.r1.nodes.n1': 1,
  'runners.r1.nodes.n1.x': 0,
  'runners.r1.nodes.n2': 2,
  'runners.r1.nodes.n2.x': 0.1,
  'runners.r2': 2,
  'runners.r2.name': 'Runner 2',
  'holes.s1': 1,
  'holes.s1.name': 'S1',
  'ticks.design.a': { done: true, note: '', by: 'ann' },
  'ticks.design.b': { done: false, note: 'x', by: 'bob' },
};

function open(content: Readonly<Record<string, unknown>> = small) {
  const doc = new Y.Doc();
  const map = doc.getMap<unknown>(SPEC_ROOT);
  doc.transact(() => {
    for (const [key, value] of Object.entries(content)) map.set(key, value);
  });
  return { doc, map, reader: createSpecReader(doc) };
}

const read = (content: Readonly<Record<string, unknown>>): Spec => readSpec(new Map(Object.entries(content)));

describe('reading', () => {
  it('an empty document is an empty spec with every field missing', () => {
    const spec = read({});
    for (const key of Object.keys(groups)) {
      if (!isGroupKey(key)) throw new Error(key);
      expect(Object.keys(spec[key])).toEqual(Object.keys(groups[key]));
      expect(Object.values(spec[key]).every((v) => v === undefined)).toBe(true);
    }
    for (const key of Object.keys(collections)) if (isCollectionKey(key)) expect(spec[key]).toEqual([]);
    expect([spec.ticks, spec.duplicates]).toEqual([{}, []]);
  });

  it('values that are not valid read as missing, valid ones beside them stay', () => {
    const spec = read({
      'tube.wall': 99,
      'tube.alloy': 'Wood',
      'tube.outsideDiameter': { si: 0.04, as: '40 mm' },
      'tube.roughness': '45 um',
      'tube.wallTemperature': Number.NaN,
      'engine.cylinders': 2.5,
      'engine.firingOrder': '1-x',
      'engine.lambda': null,
      'engine.rock': 10n,
      'project.title': '  ',
      'runners.r1': 1,
      'runners.r1.name': 5,
      'runners.r1.cylinder': 3,
    });
    expect(spec.tube).toEqual({ outsideDiameter: 0.04 });
    expect(spec.engine).toEqual({});
    expect(spec.project).toEqual({});
    expect(spec.runners).toEqual([{ id: 'r1', order: 1, cylinder: 3, nodes: [] }]);
  });

  it('an element exists by its mark alone; orphan keys are ignored', () => {
    const spec = read({
      'runners.r1.name': 'ghost',
      'runners.r2.nodes.n1.x': 0.1,
      'runners.r3.nodes.n1': 1,
      'holes.s1': 1,
      'holes.s1.nodes.n1': 1,
      'runners.R9': 1,
      nonsense: 1,
      'toString.x': 1,
      '__proto__.x': 1,
    });
    expect(spec.runners).toEqual([]);
    expect(spec.holes).toEqual([{ id: 's1', order: 1 }]);
  });

  it('elements and nodes sort by order, equal orders by id; a mark that is no finite number counts as 0', () => {
    const marks = { a: 2, b: 1, d: 0.5, c: 0.5, e: 'x', f: Number.NaN, g: null, h: -1 };
    const content: Record<string, unknown> = { 'runners.r': 1 };
    for (const [id, order] of Object.entries(marks)) {
      content[`holes.${id}`] = order;
      content[`runners.r.nodes.${id}`] = order;
    }
    const spec = read(content);
    expect(spec.holes.map((h) => h.id).join('')).toBe('hefgcdba');
    expect(spec.runners[0]?.nodes.map((n) => n.id).join('')).toBe('hefgcdba');
    expect(spec.holes.every((h) => Number.isFinite(h.order))).toBe(true);
  });

  it('names given twice within a collection are reported, whatever their case', () => {
    const spec = read({
      'holes.a': 1,
      'holes.a.name': 'S1',
      'holes.b': 2,
      'holes.b.name': ' s1 ',
      'holes.c': 3,
      'holes.d': 4,
      'runners.a': 1,
      'runners.a.name': 'S1',
    });
    expect(spec.duplicates).toEqual(['holes:  s1 ']);
  });

  it('ticks are read when they have the shape of one', () => {
    const tick = { done: true, note: 'n', by: 'ann' };
    const spec = read({
      'ticks.design.a': { ...tick, more: 1 },
      'ticks.design.b': { done: 1 },
      'ticks.design.c.d': tick,
    });
    expect(spec.ticks).toEqual({ 'design.a': tick });
  });

  it('everything handed out is frozen', () => {
    const spec = read(small);
    const frozen = [
      spec,
      spec.tube,
      spec.runners,
      spec.runners[0],
      spec.runners[0]?.nodes,
      spec.ticks,
      spec.ticks['design.a'],
    ];
    for (const part of frozen) expect(Object.isFrozen(part)).toBe(true);
  });
});

describe('sharing', () => {
  it('an edit of one node changes that node, its runner, the list; nothing else', () => {
    const { map, reader } = open();
    const before = reader.current();
    map.set('runners.r1.nodes.n2.x', 0.2);
    const after = reader.current();
    expect(after.runners[0]?.nodes[1]?.x).toBe(0.2);
    expect(after.runners).not.toBe(before.runners);
    expect(after.runners[1]).toBe(before.runners[1]);
    expect(after.runners[0]?.nodes[0]).toBe(before.runners[0]?.nodes[0]);
    for (const branch of ['tube', 'engine', 'holes', 'components', 'ticks', 'duplicates'] as const)
      expect(after[branch]).toBe(before[branch]);
  });

  it('a name changes the runner, not its node table', () => {
    const { map, reader } = open();
    const { nodes } = reader.current().runners[0] ?? {};
    map.set('runners.r1.name', 'First');
    expect(reader.current().runners[0]?.name).toBe('First');
    expect(reader.current().runners[0]?.nodes).toBe(nodes);
  });

  it.each<readonly [string, unknown]>([
    ['tube.wall', { si: 0.002, as: '2 mm' }],
    ['tube.nonsense', 1],
    ['tube.outsideDiameter', 'garbage'],
    ['engine.firingOrder', '1, 2'],
    ['runners.r1', 1],
    ['runners.r1.nonsense', 1],
    ['runners.r9.name', 'orphan'],
    ['runners.r1.nodes.n9.x', 1],
    ['runners.r1.nodes.n1.radius', 10n],
    ['ticks.design.a', { done: true, note: '', by: 'ann' }],
    ['ticks.design.z', 'garbage'],
    ['ticks.nonsense', 1],
  ])('writing %s what says nothing new keeps every branch (%o)', (path, value) => {
    const { map, reader } = open();
    const before = reader.current();
    map.set(path, value);
    const old = new Map<string, unknown>(Object.entries(before));
    for (const [branch, part] of Object.entries(reader.current())) expect(part, branch).toBe(old.get(branch));
  });

  it('one tick changes; the others keep their identity', () => {
    const { map, reader } = open();
    const before = reader.current().ticks;
    map.set('ticks.design.b', { done: true, note: 'x', by: 'bob' });
    expect(reader.current().ticks['design.b']?.done).toBe(true);
    expect(reader.current().ticks['design.a']).toBe(before['design.a']);
  });
});

describe('listeners', () => {
  it('are told once a transaction with the changed paths, until they stop', () => {
    const { doc, map, reader } = open();
    const told: string[][] = [];
    const stop = reader.onChange((spec, changed) => {
      expect(spec).toBe(reader.current());
      told.push([...changed].sort());
    });
    doc.transact(() => {
      map.set('tube.wall', 0.003);
      map.delete('holes.s1');
    });
    doc.transact(() => undefined);
    stop();
    map.set('tube.wall', 0.004);
    expect(told).toEqual([['holes.s1', 'tube.wall']]);
    expect(reader.current().tube.wall).toBe(0.004);
    reader.destroy();
    map.set('tube.wall', 0.005);
    expect(reader.current().tube.wall).toBe(0.004);
  });
});
