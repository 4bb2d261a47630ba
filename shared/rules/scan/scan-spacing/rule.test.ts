import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { scanSpacing } from './rule.ts';

const subject = 'c1';

ruleTable(
  scanSpacing,
  [
    {
      kind: 'pass',
      name: 'points 0.8 mm apart pass',
      subject,
      measured: {},
      expect: 'pass',
      value: 0.0008,
      limit: 0.0015,
      message: 'found',
      says: 'Half of 40000 points within 60.00 mm of a runner have a neighbour nearer than 0.80 mm.',
    },
    {
      kind: 'fail',
      name: 'points 3 mm apart fail',
      subject,
      measured: { median: 0.003 },
      expect: 'fail',
      message: 'found',
    },
    {
      kind: 'boundary',
      name: 'one and a half millimetres',
      subject,
      measured: {},
      move: 'measured.median',
      inside: 0.001,
      outside: 0.002,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.0015,
      at: 0.0015,
    },
    {
      kind: 'published',
      name: 'points strewn at random, one to 4 mm2, have a median neighbour at 0.94 mm',
      subject,
      measured: { median: 2e-3 * Math.sqrt(Math.LN2 / Math.PI) },
      expect: 'pass',
      value: 0.93944e-3,
      tolerance: 1e-5,
      citation:
        'Clark and Evans, Ecology 35 (1954) 445: chance of no neighbour within r is exp(-pi r2 density) (from memory)',
    },
    {
      kind: 'validity',
      name: 'twenty-nine points near the header',
      subject,
      measured: { near: 29, measured: 29 },
      expect: 'unknown',
      path: 'points near the header',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
    {
      kind: 'notApplicable',
      name: 'a component far from every runner',
      subject,
      measured: { near: 0, measured: 0, median: 0 },
      expect: 'notApplicable',
    },
    {
      kind: 'notApplicable',
      name: 'a surface, whose points are made here',
      subject,
      measured: { cover: 0.0008, median: 0.003 },
      expect: 'notApplicable',
    },
  ],
  {},
);

it('asks for the scan of its own component and all runners beyond the flange', () => {
  const { jobs } = evaluateRow(scanSpacing, { name: 'jobs', subject, measured: {} });
  expect(jobs[0]).toMatchObject({ kind: 'scanSpacing', scan: `${'a'.repeat(64)}-mm`, reach: 0.06 });
  const [job] = jobs;
  expect(
    job?.kind === 'scanSpacing' && job.tubes.map((tube) => [tube.outerRadius, tube.fromS, tube.nodes.length]),
  ).toEqual([
    [0.02225, 0.01, 12],
    [0.02225, 0.01, 12],
  ]);
});
