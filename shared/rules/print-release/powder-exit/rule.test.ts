import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { powderExit } from './rule.ts';

const subject = 'q1';

ruleTable(
  powderExit,
  [
    {
      kind: 'pass',
      name: 'two openings of 6 mm or more pass',
      subject,
      measured: {},
      expect: 'pass',
      value: 0.006,
      limit: 0.004,
      message: 'worst',
      says: 'Enclosed volumes: 1. The hardest to empty holds 0.002 L; openings: 2. Below 2.00 mm nothing comes out. Cubes of 0.50 mm.',
    },
    {
      kind: 'fail',
      name: 'one opening, however wide, is not enough',
      subject,
      measured: { openings: 1, second: 0 },
      expect: 'fail',
      value: 0,
    },
    { kind: 'fail', name: 'a second opening of 3 mm fails', subject, measured: { second: 0.003 }, expect: 'fail' },
    {
      kind: 'boundary',
      name: 'four millimetres',
      subject,
      measured: {},
      move: 'measured.second',
      inside: 0.006,
      outside: 0.001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.004,
      at: 0.004,
    },
    {
      kind: 'published',
      name: 'a sealed double wall',
      subject,
      measured: { openings: 0, second: 0, air: 3e-5 },
      expect: 'fail',
      value: 0,
      citation: 'bureau design pages: at least two openings for each closed volume, 2 mm or better 4 mm (excerpts)',
    },
    {
      kind: 'notApplicable',
      name: 'a piece that closes nothing in',
      subject,
      measured: { count: 0, air: 0, openings: 0, second: 0, at: null },
      expect: 'notApplicable',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh closes nothing in',
      subject,
      measured: { openEdges: 2 },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    without: { validity: 'any opening of a closed mesh can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it('is close within half a cube, and points at the place', () => {
  const at = (second: number, edge: number) =>
    evaluateRow(powderExit, { name: 'x', subject, measured: { second, edge } }).verdict;
  expect(at(0.0043, 0.0005)).toMatchObject({ close: false, witness: { at: [0, 0.1, 0.02] } });
  expect(at(0.0042, 0.0005)).toMatchObject({ close: true });
  expect(at(0.0043, 0.001)).toMatchObject({ close: true });
  const { jobs } = evaluateRow(powderExit, { name: 'x', subject, measured: {} });
  expect(jobs.find(({ kind }) => kind === 'enclosed')).toMatchObject({ voxel: 0.0005 });
});

it('says why it does not apply', () => {
  const measured = { count: 0, air: 0, openings: 0, second: 0, at: null };
  expect(evaluateRow(powderExit, { name: 'x', subject, measured }).verdict).toMatchObject({
    because: 'it closes nothing in: all its air is open by 20 mm',
  });
});
