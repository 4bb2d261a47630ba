import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { torchAccess } from './rule.ts';

const subject = 'j1';

ruleTable(
  torchAccess,
  [
    {
      kind: 'pass',
      name: 'a seam within reach all round passes',
      subject,
      measured: { share: 1, blind: 0, at: null },
      expect: 'pass',
      value: 1,
      says: 'Longest blind arc 0.00 mm.',
    },
    {
      kind: 'fail',
      name: 'the inner side of a collector slot fails',
      subject,
      measured: { share: 15 / 28, blind: 0.061, at: [0, 0.3, 0] },
      expect: 'fail',
      message: 'reached',
      says: 'Longest blind arc 61.00 mm.',
    },
    { kind: 'pending', name: 'pending until it is measured', subject, expect: 'unknown' },
    {
      kind: 'boundary',
      name: 'all of it',
      subject,
      measured: { blind: 0.004, at: [0, 0.3, 0] },
      move: 'measured.share',
      inside: 1,
      outside: 0.5,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1,
      at: 1,
    },
    {
      kind: 'published',
      name: 'a port weld with room all round',
      subject,
      measured: { share: 28 / 28, blind: 0, at: null },
      expect: 'pass',
      value: 1,
      citation: 'own: brute force over the same 28 places and 128 leans found 48 of 48 seams alike',
    },
    {
      kind: 'inconsistent',
      name: 'a joint on a cylinder without a runner',
      subject,
      spec: { 'joints.j1.cylinder': 9 },
      measured: {},
      expect: 'unknown',
      path: 'joints.j1.cylinder',
    },
  ],
  {
    without: { validity: 'any share can be judged; a seam beyond the end of its runner is refused by the measurement' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.turn': 'without a number everything is there',
      '.use': 'only what is said to be bought stays when nothing is printed',
    },
  },
);

it('leaves out runners that are welded later', () => {
  const other = { 'joints.j2': 2, 'joints.j2.cylinder': 2 };
  const tubes = (turns: Readonly<Record<string, number>>): number => {
    const { jobs } = evaluateRow(torchAccess, { name: 'x', subject, spec: { ...other, ...turns }, measured: {} });
    const [job] = jobs;
    return job?.kind === 'torchReach' ? job.tubes.length : Number.NaN;
  };
  const all = tubes({});
  expect(all).toBeGreaterThan(1);
  expect(tubes({ 'joints.j1.turn': 1, 'joints.j2.turn': 2 })).toBe(all - 1);
  expect(tubes({ 'joints.j1.turn': 2, 'joints.j2.turn': 1 })).toBe(all);
  expect(tubes({ 'joints.j1.turn': 1 })).toBe(all);
});

it('asks for the stated torch round the stated place', () => {
  const { jobs } = evaluateRow(torchAccess, { name: 'x', subject, measured: {} });
  expect(jobs[0]).toMatchObject({
    kind: 'torchReach',
    seam: { tube: 0, s: 0.2 },
    torch: { standOff: 0.003, cupRadius: 0.008, cupLength: 0.04, bodyRadius: 0.014, bodyLength: 0.126 },
    lean: 0.7,
    places: 28,
  });
});
