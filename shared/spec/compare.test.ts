import { describe, expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { compareSpecs } from './compare.ts';
import { readSpec } from './reader.ts';

/** Base entries with some set, and those that are undefined taken away with all below them. */
function specOf(over: Readonly<Record<string, unknown>>) {
  const entries = new Map<string, unknown>(baseEntries());
  for (const [path, value] of Object.entries(over)) {
    if (value === undefined)
      for (const key of [...entries.keys()]) if (key === path || key.startsWith(`${path}.`)) entries.delete(key);
    if (value !== undefined) entries.set(path, value);
  }
  return readSpec(entries);
}

const changes = (over: Readonly<Record<string, unknown>>) => compareSpecs(specOf({}), specOf(over));

describe('two specs', () => {
  it('that are alike have nothing to tell', () => {
    expect(changes({})).toEqual([]);
    expect(changes({ 'tube.wall': { si: 0.002, as: '2 mm' } }), 'the same fact typed otherwise').toEqual([]);
  });

  it('differ in fields, before and after in SI, an empty one as null', () => {
    expect(changes({ 'tube.wall': 0.003, 'tube.alloy': undefined })).toEqual([
      {
        ...{ branch: 'tube', title: 'Runner tube', rows: [] },
        fields: [
          { path: 'tube.alloy', before: '625', after: null },
          { path: 'tube.wall', before: 0.002, after: 0.003 },
        ],
      },
    ]);
  });

  it('differ in the nodes of a runner', () => {
    const [section] = changes({
      'runners.r1.nodes.n2.y': 0.16,
      'runners.r1.nodes.n9': 2.5,
      'runners.r1.nodes.n9.x': 0.01,
      'runners.r1.nodes.n3': undefined,
    });
    expect(section?.rows.map(({ kind, path }) => [kind, path])).toEqual([
      ['removed', 'runners.r1.nodes.n3'],
      ['added', 'runners.r1.nodes.n9'],
    ]);
    expect(section?.fields).toEqual([
      { path: 'runners.r1.nodes.n2.y', before: 0.15, after: 0.16 },
      { path: 'runners.r1.nodes.n9.x', before: null, after: 0.01 },
    ]);
  });

  it('differ in rows: gone, new with its values, renamed, in another order', () => {
    const [runners] = changes({
      ...{ 'runners.r1': 3, 'runners.r1.name': 'Runner one', 'runners.r3': 4, 'runners.r3.name': 'Runner 3' },
    });
    expect(runners?.rows).toEqual([
      { kind: 'added', path: 'runners.r3', before: undefined, after: 'Runner 3' },
      { kind: 'renamed', path: 'runners.r1', before: 'Runner 1', after: 'Runner one' },
      // Of two that changed places either may be said to have moved.
      { kind: 'moved', path: 'runners.r2', before: 'Runner 2', after: 'Runner 2' },
    ]);
    expect(runners?.fields).toEqual([{ path: 'runners.r3.name', before: null, after: 'Runner 3' }]);
    const [gone] = changes({ 'runners.r2': undefined });
    expect(gone).toMatchObject({ rows: [{ kind: 'removed', path: 'runners.r2', before: 'Runner 2' }], fields: [] });
  });

  it('come in the order of the sheet', () => {
    const found = changes({
      'project.title': 'Other',
      'tube.wall': 0.003,
      'engine.lambda': 0.9,
      'holes.s1': undefined,
    });
    expect(found.map(({ branch }) => branch)).toEqual(['engine', 'tube', 'holes', 'project']);
  });

  it('do not differ by ticks', () => {
    expect(changes({ 'ticks.design.route-agreed': { done: true, note: '', by: 'ann' } })).toEqual([]);
  });
});

it('a row that goes to the end is the one that moved, not all others', () => {
  const many = Object.fromEntries(
    [1, 2, 3, 4, 5].flatMap((i) => [
      [`chains.c${i}`, i],
      [`chains.c${i}.name`, `Chain ${i}`],
    ]),
  );
  const [section] = compareSpecs(specOf(many), specOf({ ...many, 'chains.c1': 9 }));
  expect(section?.rows).toEqual([{ kind: 'moved', path: 'chains.c1', before: 'Chain 1', after: 'Chain 1' }]);
});
