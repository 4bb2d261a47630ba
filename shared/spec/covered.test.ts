import { describe, expect, it } from 'vitest';
import { type CoveredFacts, changedFacts, coveredFacts, formatFact, pathWords } from './covered.ts';
import { readSpec } from './reader.ts';

const entries: Readonly<Record<string, unknown>> = {
  'tube.wall': { si: 0.002, as: '2 mm' },
  'tube.alloy': '625',
  'engine.firingOrder': '1-3-4-2',
  'runners.r2': 1,
  'runners.r2.name': 'Runner two',
  'runners.r1': 2,
  'runners.r1.nodes.b': 2,
  'runners.r1.nodes.b.x': 0.2,
  'runners.r1.nodes.a': 1,
  'runners.r1.nodes.a.x': -0,
  'ticks.design.route-agreed': { done: true, note: '', by: 'ann' },
  'ticks.design.other': { done: false, note: '', by: 'ann' },
  'ticks.design.noted': { done: false, note: 'later', by: 'ann' },
  'ticks.design-review.x': { done: true, note: '', by: 'ann' },
};
const specOf = (more: Readonly<Record<string, unknown>> = {}) =>
  readSpec(new Map(Object.entries({ ...entries, ...more })));
const facts = (more: Readonly<Record<string, unknown>> = {}): CoveredFacts =>
  coveredFacts(specOf(more), ['tube', 'runners'], 'design');

describe('coveredFacts', () => {
  it('names every field below the branches, empty ones as null, and the ticks of the gate', () => {
    expect(facts()).toEqual({
      runners: 'r2 r1',
      'runners.r1.cylinder': null,
      'runners.r1.entry': null,
      'runners.r1.name': null,
      'runners.r1.nodes': 'a b',
      'runners.r1.nodes.a.radius': null,
      'runners.r1.nodes.a.x': 0,
      'runners.r1.nodes.a.y': null,
      'runners.r1.nodes.a.z': null,
      'runners.r1.nodes.b.radius': null,
      'runners.r1.nodes.b.x': 0.2,
      'runners.r1.nodes.b.y': null,
      'runners.r1.nodes.b.z': null,
      'runners.r2.cylinder': null,
      'runners.r2.entry': null,
      'runners.r2.name': 'Runner two',
      'runners.r2.nodes': '',
      'ticks.design.noted.done': false,
      'ticks.design.noted.note': 'later',
      'ticks.design.route-agreed.done': true,
      'ticks.design.route-agreed.note': '',
      'tube.alloy': '625',
      'tube.outsideDiameter': null,
      'tube.roughness': null,
      'tube.wall': 0.002,
      'tube.wallTemperature': null,
    });
  });

  it('is sorted by path, whatever the order of branches', () => {
    const keys = Object.keys(facts());
    expect(keys).toEqual([...keys].sort());
    expect(Object.keys(coveredFacts(specOf(), ['runners', 'tube'], 'design'))).toEqual(keys);
  });

  it('a sequence is text; the ticks branch adds nothing of other gates', () => {
    const some = coveredFacts(specOf(), ['engine', 'ticks'], 'weld');
    expect(some['engine.firingOrder']).toBe('1-3-4-2');
    expect(Object.keys(some).filter((k) => k.startsWith('ticks'))).toEqual([]);
  });

  it('does not change with the text a number was typed as, with who ticked, or with the numbers behind an order', () => {
    expect(
      facts({
        'tube.wall': 0.002,
        'runners.r1': 99,
        'ticks.design.route-agreed': { done: true, note: '', by: 'bob' },
        'ticks.design.other': undefined,
        'runners.r1.nodes.a.x': 0,
      }),
    ).toEqual(facts());
  });

  it('survives JSON, in which the record keeps it, without a moved fact', () => {
    const kept: CoveredFacts = JSON.parse(JSON.stringify(facts()));
    expect(changedFacts(kept, facts())).toEqual([]);
  });
});

describe('changedFacts', () => {
  it('names exactly what moved, sorted', () => {
    const now = facts({ 'tube.wall': 0.0025, 'runners.r2': 3, 'runners.r1.nodes.a': undefined });
    expect(changedFacts(facts(), now)).toEqual([
      { path: 'runners', before: 'r2 r1', after: 'r1 r2' },
      { path: 'runners.r1.nodes', before: 'a b', after: 'b' },
      { path: 'runners.r1.nodes.a.radius', before: null, after: undefined },
      { path: 'runners.r1.nodes.a.x', before: 0, after: undefined },
      { path: 'runners.r1.nodes.a.y', before: null, after: undefined },
      { path: 'runners.r1.nodes.a.z', before: null, after: undefined },
      { path: 'tube.wall', before: 0.002, after: 0.0025 },
    ]);
  });

  it('a field that becomes invalid reads as emptied', () => {
    expect(changedFacts(facts(), facts({ 'tube.wall': 'thick' }))).toEqual([
      { path: 'tube.wall', before: 0.002, after: null },
    ]);
  });
});

describe('words', () => {
  it.each([
    ['tube.wall', 0.002, '2.00 mm'],
    ['tube.wall', null, 'empty'],
    ['tube.wall', undefined, 'not there'],
    ['tube.alloy', '625', '625'],
    ['runners.r1.nodes.a.x', 0.2, '200.00 mm'],
    ['ticks.design.route-agreed.done', true, 'yes'],
    ['ticks.design.route-agreed.done', false, 'no'],
    ['engine.cylinders', 4, '4'],
    ['nonsense', 4, '4'],
  ])('fact %s = %s reads %s', (path, value, words) => {
    expect(formatFact(path, value)).toBe(words);
  });

  it.each([
    ['tube.wall', 'Runner wall'],
    ['runners', 'Runners: which, in what order'],
    ['runners.r2', 'Runner two'],
    ['runners.r2.name', 'Runner two: name'],
    ['runners.r2.cylinder', 'Runner two: Cylinder'],
    ['runners.r1.cylinder', 'Runner r1: Cylinder'],
    ['runners.gone.cylinder', 'Runner gone: Cylinder'],
    ['runners.r1.nodes', 'Runner r1: nodes, in what order'],
    ['runners.r1.nodes.b.x', 'Runner r1, node 2: X'],
    ['runners.r1.nodes.gone.x', 'Runner r1, node gone: X'],
    ['ticks.design.route-agreed.done', 'checklist design: route-agreed'],
    ['ticks.design.route-agreed.note', 'checklist design: route-agreed, note'],
    ['nonsense', 'nonsense'],
  ])('path %s reads %s', (path, words) => {
    expect(pathWords(path, specOf())).toBe(words);
  });
});
