import { describe, expect, it } from 'vitest';
import { isGateId } from './gateId.ts';
import { isId } from './id.ts';
import { fieldAt, isCollectionKey, isGroupKey, parsePath } from './path.ts';

describe('parsePath', () => {
  it.each([
    ['engine.lambda', 'field'],
    ['runners.r1', 'element'],
    ['runners.r1.name', 'elementField'],
    ['runners.r1.nodes.n2', 'node'],
    ['runners.r1.nodes.n2.x', 'nodeField'],
    ['components.c-1.heatClass', 'elementField'],
    ['ticks.design.route-agreed', 'tick'],
  ])('%s is a %s', (path, kind) => {
    expect(parsePath(path)?.kind).toBe(kind);
  });

  it.each([
    '',
    '.',
    'engine',
    'engine.',
    'engine.nonsense',
    'engine.lambda.x',
    'engine.toString',
    'engine.__proto__',
    'toString.x',
    '__proto__.x',
    'runners',
    'runners.',
    'runners.R1',
    'runners.-a',
    'runners.a_b',
    `runners.${'a'.repeat(41)}`,
    'runners.r1.nonsense',
    'runners.r1.name.x',
    'runners.r1.nodes',
    'runners.r1.nodes.',
    'runners.r1.nodes.N',
    'runners.r1.nodes.n1.nodes',
    'runners.r1.nodes.n1.x.y',
    'holes.h1.nodes.n1',
    'ticks.design',
    'ticks.design.a.b',
    'ticks.Design.a',
    ' engine.lambda',
  ])('%j names nothing', (path) => {
    expect(parsePath(path)).toBeNull();
    expect(fieldAt(path)).toBeNull();
  });

  it('fieldAt finds the row of a value, not of a mark', () => {
    expect(fieldAt('tube.wall')?.label).toBe('Runner wall');
    expect(fieldAt('runners.r1.nodes.n1.y')?.label).toBe('Y');
    expect(fieldAt('runners.r1')).toBeNull();
    expect(fieldAt('ticks.design.x')).toBeNull();
  });

  it('guards know their own keys only', () => {
    expect([isGroupKey('tube'), isGroupKey('runners'), isGroupKey('valueOf')]).toEqual([true, false, false]);
    expect([isCollectionKey('runners'), isCollectionKey('tube'), isCollectionKey('valueOf')]).toEqual([
      true,
      false,
      false,
    ]);
    expect([isGateId('weld'), isGateId('Weld'), isGateId('toString')]).toEqual([true, false, false]);
    expect([isId('a'), isId('0-x'), isId(''), isId('a.b')]).toEqual([true, true, false, false]);
  });
});

describe('tables inside rows', () => {
  it.each([
    ['materials.m1.points.p1', { kind: 'node', branch: 'materials', id: 'm1', table: 'points', node: 'p1' }],
    ['runners.r1.nodes.n1.x', { kind: 'nodeField', branch: 'runners', table: 'nodes', node: 'n1', key: 'x' }],
    ['materials.m1.ruptures.q.life', { kind: 'nodeField', branch: 'materials', table: 'ruptures', key: 'life' }],
    ['limits.runner-mach.most', { kind: 'elementField', branch: 'limits', id: 'runner-mach', key: 'most' }],
  ])('%s', (path, parsed) => {
    expect(parsePath(path)).toMatchObject(parsed);
  });

  it.each([
    'runners.r1.points.p1',
    'materials.m1.nodes.n1',
    'materials.m1.points',
    'materials.m1.points.p1.life',
    'materials.m1.toString.p1',
    'limits.runner-mach.points.p1',
  ])('%j names nothing', (path) => {
    expect(parsePath(path)).toBeNull();
  });
});
