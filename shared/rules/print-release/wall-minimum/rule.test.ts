import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { wallMinimum } from './rule.ts';

const subject = 'q1';

ruleTable(
  wallMinimum,
  [
    {
      kind: 'pass',
      name: 'a wall of 1.9 mm passes',
      subject,
      measured: {},
      expect: 'pass',
      value: 0.0019,
      limit: 0.001,
      message: 'thin',
      says: 'A hundredth of the wall is thinner than 1.95 mm. A free wall needs 0.80 mm to print at all.',
    },
    {
      kind: 'fail',
      name: 'a wall of 0.7 mm fails',
      subject,
      measured: { smallest: 0.0007, p1: 0.0009 },
      expect: 'fail',
      limit: 0.001,
    },
    {
      kind: 'boundary',
      name: 'a wall of 1.2 mm is usual',
      subject,
      measured: {},
      move: 'measured.smallest',
      inside: 0.002,
      outside: 0.0011,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0.0012,
      at: 0.0012,
    },
    {
      kind: 'boundary',
      name: 'a wall of 1.0 mm is the least',
      subject,
      measured: {},
      move: 'measured.smallest',
      inside: 0.0011,
      outside: 0.0009,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 0.001,
      at: 0.001,
    },
    {
      kind: 'published',
      name: 'a tube of 44.5 mm and 2 mm cut into 60 facets reads 2 cos(3 deg)',
      subject,
      measured: { smallest: 0.002 * Math.cos(Math.PI / 60) },
      expect: 'pass',
      value: 0.00199726,
      tolerance: 1e-5,
      citation: 'own: facets of two circles about one axis lie parallel, at the difference of their apothems',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh has no wall',
      subject,
      measured: { openEdges: 2 },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    {
      kind: 'inconsistent',
      name: 'nor has one too tangled to be searched',
      subject,
      measured: { selfIntersectionsComplete: false },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    without: { validity: 'any thickness of a closed mesh can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it('points at the place', () => {
  const { verdict, jobs } = evaluateRow(wallMinimum, { name: 'x', subject, measured: {} });
  expect(verdict).toMatchObject({ witness: { at: [0.02, 0.1, 0] } });
  expect(jobs.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['meshReport', 'thinnestWall']));
  const thick = { smallest: 0.01, p1: 0.01, at: null };
  expect(evaluateRow(wallMinimum, { name: 'x', subject, measured: thick }).verdict).not.toHaveProperty('witness');
});
