import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  addElement,
  addMaterialRow,
  addNode,
  type ChangeOrigin,
  freshId,
  moveNode,
  removeElement,
  replaceAll,
  setField,
  setLimit,
  setTick,
  userOrigin,
} from './commands.ts';
import { SPEC_ROOT } from './reader.ts';

interface Bench {
  readonly doc: Y.Doc;
  readonly map: Y.Map<unknown>;
  /** Origins of the transactions that changed something. */
  readonly origins: unknown[];
}

function bench(content: Readonly<Record<string, unknown>> = {}): Bench {
  const doc = new Y.Doc();
  const map = doc.getMap<unknown>(SPEC_ROOT);
  for (const [key, value] of Object.entries(content)) map.set(key, value);
  const origins: unknown[] = [];
  map.observe((_, transaction) => origins.push(transaction.origin));
  return { doc, map, origins };
}

const runner = {
  'runners.r1': 1,
  'runners.r1.name': 'Runner 1',
  'runners.r1.nodes.n1': 1,
  'runners.r1.nodes.n1.x': { si: 0.1, as: '100 mm' },
  'runners.r1.nodes.n1.y': 0,
  'runners.r10': 2,
  'runners.r10.name': 'Runner 10',
};

describe('setField', () => {
  it('sets and clears one field in one transaction of the user', () => {
    const { doc, map, origins } = bench();
    setField(doc, 'tube.wall', { si: 0.002, as: '2 mm' });
    setField(doc, 'runners.r1.name', 'Runner 1');
    setField(doc, 'tube.wall', null);
    expect(map.toJSON()).toEqual({ 'runners.r1.name': 'Runner 1' });
    expect(origins).toEqual([userOrigin, userOrigin, userOrigin]);
  });

  it.each(['tube', 'tube.nonsense', 'runners.r1', 'ticks.design.x', ''])('throws on %j, which is a bug', (path) => {
    expect(() => setField(bench().doc, path, 1)).toThrow(/names no field/);
  });

  it('carries another origin when told', () => {
    const { doc, origins } = bench();
    const load: ChangeOrigin = { kind: 'load' };
    setField(doc, 'tube.wall', 0.002, load);
    expect(origins).toEqual([load]);
  });
});

describe('elements', () => {
  it('adds an element with its values in one transaction', () => {
    const { doc, map, origins } = bench();
    addElement(doc, 'holes', { id: 's1', order: 3, values: { name: 'S1', x: 0.01 } });
    expect(map.toJSON()).toEqual({ 'holes.s1': 3, 'holes.s1.name': 'S1', 'holes.s1.x': 0.01 });
    expect(origins).toHaveLength(1);
  });

  it('adds a node', () => {
    const { doc, map } = bench(runner);
    addNode(doc, 'r1', { id: 'n2', order: 2, values: { x: 1, y: 2, z: 3, radius: 0.05 } });
    expect(map.get('runners.r1.nodes.n2')).toBe(2);
    expect(map.get('runners.r1.nodes.n2.radius')).toBe(0.05);
    expect(map.get('runners.r1.nodes.n1.x')).toEqual(runner['runners.r1.nodes.n1.x']);
  });

  it('what a concurrent edit left of a removed element does not come back with a new one', () => {
    const { doc, map } = bench({ 'holes.s1.x': 0.5 });
    addElement(doc, 'holes', { id: 's1', order: 1, values: { name: 'S1' } });
    expect(map.toJSON()).toEqual({ 'holes.s1': 1, 'holes.s1.name': 'S1' });
  });

  it('throws, changing nothing, for an id or field that cannot be', () => {
    const { doc, map } = bench();
    expect(() => addElement(doc, 'holes', { id: 'S 1', order: 1, values: {} })).toThrow(/names no element/);
    expect(() => addElement(doc, 'holes', { id: 's1', order: 1, values: { wall: 1 } })).toThrow(/names no field/);
    expect(() => addNode(doc, 'r1', { id: 'a.b', order: 1, values: {} })).toThrow(/names no element/);
    expect(map.size).toBe(0);
  });

  it('removes an element with everything below it and nothing beside it', () => {
    const { doc, map, origins } = bench(runner);
    removeElement(doc, 'runners.r1');
    expect(map.toJSON()).toEqual({ 'runners.r10': 2, 'runners.r10.name': 'Runner 10' });
    expect(origins).toHaveLength(1);
  });

  it('removes one node', () => {
    const { doc, map } = bench(runner);
    removeElement(doc, 'runners.r1.nodes.n1');
    expect([...map.keys()].filter((k) => k.includes('nodes'))).toEqual([]);
    expect(map.get('runners.r1')).toBe(1);
  });

  it.each(['', 'runners', 'runners.r1.nodes', 'tube', 'runners.r1.name'])('removing %j throws', (path) => {
    const { doc, map } = bench(runner);
    expect(() => removeElement(doc, path)).toThrow(/names no element/);
    expect(map.size).toBe(Object.keys(runner).length);
  });
});

describe('moveNode', () => {
  it('writes only the coordinates that move; the others keep the text they were typed as', () => {
    const { doc, map, origins } = bench(runner);
    moveNode(doc, { runner: 'r1', node: 'n1' }, { x: 0.1, y: 0.2, z: 0.3 });
    expect(map.get('runners.r1.nodes.n1.x')).toEqual({ si: 0.1, as: '100 mm' });
    expect([map.get('runners.r1.nodes.n1.y'), map.get('runners.r1.nodes.n1.z')]).toEqual([0.2, 0.3]);
    expect(origins).toEqual([userOrigin]);
    moveNode(doc, { runner: 'r1', node: 'n1' }, { x: 0.1, y: 0.2, z: 0.3 });
    expect(origins).toHaveLength(1);
  });

  it('is taken back whole by one undo', () => {
    const { doc, map } = bench(runner);
    const undo = new Y.UndoManager(map, { trackedOrigins: new Set([userOrigin]), captureTimeout: 0 });
    moveNode(doc, { runner: 'r1', node: 'n1' }, { x: 1, y: 1, z: 1 });
    undo.undo();
    expect(map.toJSON()).toEqual(runner);
  });
});

describe('setTick', () => {
  it('writes the tick at its item', () => {
    const { doc, map } = bench();
    setTick(doc, 'design', 'route-agreed', { done: true, note: 'by phone', by: 'a1' });
    expect(map.toJSON()).toEqual({ 'ticks.design.route-agreed': { done: true, note: 'by phone', by: 'a1' } });
  });
});

describe('replaceAll', () => {
  it('takes away, adds and changes in one transaction, and leaves the same alone', () => {
    const { doc, map } = bench(runner);
    const changed: string[][] = [];
    map.observe((event) => changed.push([...event.keysChanged].map(String).sort()));
    const content = new Map<string, unknown>(Object.entries(runner));
    content.delete('runners.r10.name');
    content.set('runners.r1.name', 'First');
    content.set('runners.r1.nodes.n1.x', { si: 0.1, as: '100 mm' });
    content.set('tube.wall', 0.002);
    replaceAll(doc, content, { kind: 'import' });
    expect(new Map(Object.entries(map.toJSON()))).toEqual(content);
    expect(changed).toEqual([['runners.r1.name', 'runners.r10.name', 'tube.wall']]);
  });

  it('does not trip over garbage in the document', () => {
    const { doc, map } = bench({
      'tube.wall': 10n,
      'tube.alloy': new Y.Map(),
      'head.temperature': Number.NaN,
      'bay.x': null,
    });
    const content = new Map<string, unknown>([
      ['tube.wall', 0.002],
      ['tube.alloy', '625'],
      ['head.temperature', 400],
    ]);
    replaceAll(doc, content);
    expect(new Map(Object.entries(map.toJSON()))).toEqual(content);
  });
});

describe('freshId', () => {
  it('is a good id, new below its parent, made from the number given', () => {
    const { doc } = bench({ 'holes.000000': 1, 'runners.000001': 1 });
    expect(freshId(doc, 'holes', () => 0.5)).toBe('i00000');
    expect(freshId(doc, 'runners', () => 0)).toBe('000000');
    expect(freshId(doc, 'holes', () => 1 - 2 ** -53)).toBe('zzzzzz');
  });

  it('ends when the random numbers repeat, also past the last id', () => {
    const { doc } = bench({ 'holes.000000': 1, 'holes.000001': 2, 'holes.zzzzzz': 3 });
    expect(freshId(doc, 'holes', () => 0)).toBe('000002');
    expect(freshId(doc, 'holes', () => 1 - 2 ** -53)).toBe('000002');
  });

  it('leftovers of a removed element count as taken', () => {
    const { doc } = bench({ 'runners.r1.nodes.000000.x': 1 });
    expect(freshId(doc, 'runners.r1.nodes', () => 0)).toBe('000001');
    expect(freshId(doc, 'runners', () => 0)).toBe('000000');
  });
});

describe('what the job brings itself', () => {
  it('a limit is set whole in one transaction, over whatever stood there, and undone whole', () => {
    const { doc, map, origins } = bench({ 'limits.stud-preload': 1, 'limits.stud-preload.least': 0.4 });
    const before = map.toJSON();
    const undo = new Y.UndoManager(map, { trackedOrigins: new Set([userOrigin]) });
    setLimit(doc, 'stud-preload', { most: 0.8, reason: 'short studs' });
    expect(map.toJSON()).toEqual({
      'limits.stud-preload': 1,
      'limits.stud-preload.most': 0.8,
      'limits.stud-preload.reason': 'short studs',
    });
    expect(origins).toEqual([userOrigin]);
    undo.undo();
    expect(map.toJSON()).toEqual(before);
    undo.redo();
    removeElement(doc, 'limits.stud-preload');
    expect(map.toJSON()).toEqual({});
  });

  it('a row of a material goes with the material', () => {
    const { doc, map } = bench({ 'materials.m': 1 });
    addMaterialRow(doc, { material: 'm', table: 'points' }, { id: 'a', order: 2, values: { temperature: 300 } });
    expect(map.get('materials.m.points.a.temperature')).toBe(300);
    removeElement(doc, 'materials.m');
    expect(map.toJSON()).toEqual({});
  });

  it.each([
    ['a table that is not there', { material: 'm', table: 'nodes' }, {}],
    ['a column that is not there', { material: 'm', table: 'points' }, { life: 1 }],
  ])('%s is a bug', (_, at, values) => {
    expect(() => addMaterialRow(bench().doc, at, { id: 'a', order: 1, values })).toThrow(/names no/);
  });
});
