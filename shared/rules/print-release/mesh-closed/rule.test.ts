import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { meshClosed } from './rule.ts';

const subject = 'q1';

ruleTable(
  meshClosed,
  [
    {
      kind: 'pass',
      name: 'a closed surface passes',
      subject,
      measured: {},
      expect: 'pass',
      value: 0,
      limit: 0,
      message: 'counts',
      says: 'Open edges 0, with more than two faces 0, flipped 0, crossings 0; shells 1, volume 0.120 L.',
    },
    {
      kind: 'fail',
      name: 'one open edge fails',
      subject,
      measured: { openEdges: 1, at: [0.01, 0.02, 0.03] },
      expect: 'fail',
      value: 1,
    },
    {
      kind: 'fail',
      name: 'faults of all kinds are counted together',
      subject,
      measured: { openEdges: 3, nonManifoldEdges: 5, flippedEdges: 7, selfIntersections: 11 },
      expect: 'fail',
      value: 26,
    },
    {
      kind: 'fail',
      name: 'a surface turned inside out fails',
      subject,
      measured: { volume: -1.2e-4 },
      expect: 'fail',
      value: 1,
    },
    {
      kind: 'fail',
      name: 'a surface without volume fails',
      subject,
      measured: { volume: 0 },
      expect: 'fail',
      value: 1,
    },
    {
      kind: 'fail',
      name: 'the volume of an open surface says nothing and is not counted',
      subject,
      measured: { openEdges: 4, volume: -1 },
      expect: 'fail',
      value: 4,
    },
    {
      kind: 'fail',
      name: 'crossings found count even where the search was stopped',
      subject,
      measured: { selfIntersections: 1_000_000, selfIntersectionsComplete: false },
      expect: 'fail',
      value: 1_000_000,
    },
    {
      kind: 'inconsistent',
      name: 'a search that was stopped before it found any says nothing',
      subject,
      measured: { selfIntersectionsComplete: false },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    {
      kind: 'boundary',
      name: 'no fault at all',
      subject,
      measured: {},
      move: 'measured.flippedEdges',
      inside: 0,
      outside: 1,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0,
      at: 0,
    },
    {
      kind: 'published',
      name: 'a cube that lacks one of its twelve triangles has three open edges',
      subject,
      measured: { openEdges: 3, holes: 1 },
      expect: 'fail',
      value: 3,
      citation: 'own: each triangle of a closed surface shares its three edges with one other',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    without: { validity: 'any mesh can be counted' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it('says that nothing was found because the search was stopped', () => {
  const { verdict } = evaluateRow(meshClosed, { name: 'x', subject, measured: { selfIntersectionsComplete: false } });
  expect(JSON.stringify(verdict)).toContain('expected a mesh that can be searched for crossings to the end');
});

it('points at a fault, and asks for the mesh by content and unit', () => {
  const measured = { openEdges: 1, at: [0.01, 0.02, 0.03] };
  const { verdict, jobs } = evaluateRow(meshClosed, { name: 'x', subject, measured });
  expect(verdict).toMatchObject({ witness: { at: [0.01, 0.02, 0.03] } });
  expect(jobs[0]).toEqual({ kind: 'meshReport', mesh: `${'b'.repeat(64)}-mm` });
});

it.each([
  ['bought', { 'pieces.q1.use': 'bought' }],
  ['on a header that is only fabricated', { 'route.made': 'fabricated' }],
])('does not judge a piece that is %s', (_, spec) => {
  expect(evaluateRow(meshClosed, { name: 'x', subject, spec, measured: {} }).verdict).toBeUndefined();
});
