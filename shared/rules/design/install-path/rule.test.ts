import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { installPath } from './rule.ts';

const subject = 'header';

ruleTable(
  installPath,
  [
    {
      kind: 'pass',
      name: 'free as far as was looked passes',
      subject,
      measured: { free: 0.05, point: null, onPart: null },
      expect: 'pass',
      limit: 0.03,
      message: 'need',
      says: 'Studs stand out by 25.00 mm; the header may travel 50.00 mm.',
    },
    {
      kind: 'fail',
      name: 'a rail in front of the runners fails',
      subject,
      measured: { free: 0.012, point: [0, 0.3, 0], onPart: [0, 0.288, 0] },
      expect: 'fail',
    },
    { kind: 'pending', name: 'pending until it is measured', subject, expect: 'unknown' },
    {
      kind: 'boundary',
      name: 'stick-out and five millimetres',
      subject,
      measured: { point: [0, 0.3, 0], onPart: [0, 0.27, 0] },
      move: 'measured.free',
      inside: 0.05,
      outside: 0,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.03,
      at: 0.03,
    },
    {
      kind: 'published',
      name: 'short studs of 20 mm need 25 mm',
      subject,
      spec: { 'tools.stickOut': 0.02 },
      measured: { free: 0.026, point: [0, 0.3, 0], onPart: [0, 0.274, 0] },
      expect: 'pass',
      value: 0.026,
      limit: 0.025,
      citation: 'own: the flange passes the stud ends and the gasket; arithmetic 20 + 5 mm',
    },
  ],
  {
    without: { validity: 'any travel can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'only what is said to be bought stays when nothing is printed',
    },
  },
);

it('moves tubes and parts together along the studs, a little beyond what is asked', () => {
  const { jobs } = evaluateRow(installPath, { name: 'x', subject, measured: {} });
  expect(jobs[0]).toMatchObject({ kind: 'straightOff', way: [0, 1, 0], reach: 0.05, meshes: [`${'b'.repeat(64)}-mm`] });
});

it('has nothing to judge without a scan', () => {
  const spec = Object.fromEntries(
    ['', '.name', '.heatClass', '.scan', '.scanUnit'].map((field) => [`components.c1${field}`, undefined]),
  );
  expect(evaluateRow(installPath, { name: 'x', subject, spec, measured: {} }).verdict).toBeUndefined();
});
