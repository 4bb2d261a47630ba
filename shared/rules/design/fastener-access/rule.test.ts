import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { fastenerAccess } from './rule.ts';

const subject = 's1';

ruleTable(
  fastenerAccess,
  [
    {
      kind: 'pass',
      name: 'free for twice the socket passes',
      subject,
      measured: { free: 0.18, by: null, at: null },
      expect: 'pass',
      limit: 0.09,
      says: 'Stopped by nothing; 180.00 mm was looked at.',
    },
    {
      kind: 'fail',
      name: 'a runner over the nut fails',
      subject,
      measured: { free: 0.04, by: 'tube', at: [0, 0.05, 0.03] },
      expect: 'fail',
      message: 'by',
      says: 'Stopped by a runner; 180.00 mm was looked at.',
    },
    {
      kind: 'fail',
      name: 'the loom over the nut fails',
      subject,
      measured: { free: 0.089, by: 'scan', at: [0, 0.099, 0.03] },
      expect: 'fail',
      says: 'Stopped by a bay component; 180.00 mm was looked at.',
    },
    { kind: 'pending', name: 'pending until it is measured', subject, expect: 'unknown' },
    {
      kind: 'boundary',
      name: 'the stated socket',
      subject,
      measured: { by: 'part', at: [0, 0.1, 0.03] },
      move: 'measured.free',
      inside: 0.2,
      outside: 0,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.09,
      at: 0.09,
    },
    {
      kind: 'published',
      name: 'a deep socket with a short extension needs 120 mm',
      subject,
      spec: { 'tools.socketLength': 0.12 },
      measured: { free: 0.125, by: 'part', at: [0, 0.135, 0.03] },
      expect: 'pass',
      value: 0.125,
      limit: 0.12,
      citation: 'common practice, no source: deep socket and 50 mm extension',
    },
  ],
  {
    without: { validity: 'any length can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'only what is said to be bought stays when nothing is printed',
    },
  },
);

it('looks from the middle of the hole on the outer face of the flange, past the end of the stud', () => {
  const { jobs } = evaluateRow(fastenerAccess, { name: 'x', subject, measured: {} });
  expect(jobs[0]).toMatchObject({
    kind: 'toolReach',
    from: [0, 0.01, 0.03],
    way: [0, 1, 0],
    radius: 0.01,
    stud: { radius: 0.0045, depth: 0.025 },
    reach: 0.18,
  });
});
