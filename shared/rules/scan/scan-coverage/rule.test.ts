import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { scanCoverage } from './rule.ts';

const subject = 'bay';

ruleTable(
  scanCoverage,
  [
    {
      kind: 'pass',
      name: 'gaps of 3 % pass',
      subject,
      measured: {},
      expect: 'pass',
      value: 0.97,
      limit: 0.9,
      message: 'share',
      says: '40.0 % of the looks out of the runners end in the open within 60 mm; look at those by eye.',
    },
    {
      kind: 'fail',
      name: 'gaps of a third fail',
      subject,
      measured: { seen: 0.2, gap: 0.1 },
      expect: 'fail',
      message: 'share',
    },
    {
      kind: 'boundary',
      name: 'nine tenths',
      subject,
      measured: { seen: 0.9 },
      move: 'measured.gap',
      inside: 0,
      outside: 0.9,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.9,
      at: 0.1,
    },
    {
      kind: 'published',
      name: 'a round hole of 30 mm in a sheet of 100 x 100 mm leaves 92.9 %',
      subject,
      measured: { seen: 0.01 - Math.PI * 0.015 ** 2, gap: Math.PI * 0.015 ** 2 },
      expect: 'pass',
      value: 0.929314,
      tolerance: 1e-6,
      citation: 'own: area of a circle; the measurement itself is checked on such sheets in server/measure/scan',
    },
    {
      kind: 'inconsistent',
      name: 'no scanned surface near any runner',
      subject,
      measured: { seen: 0, gap: 0, at: null },
      expect: 'unknown',
      path: 'components',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  { without: { validity: 'what it cannot see it cannot tell either: the page says so' } },
);

it('has no subject without a component or without a runner', () => {
  const none = { 'components.c1': undefined };
  expect(
    evaluateRow(scanCoverage, { name: 'no component', subject, measured: {}, spec: none }).verdict,
  ).toBeUndefined();
  const bare = { 'runners.r1': undefined, 'runners.r2': undefined };
  expect(evaluateRow(scanCoverage, { name: 'no runner', subject, measured: {}, spec: bare }).verdict).toBeUndefined();
});

it('points at the widest gap, and asks once for scans that components share', () => {
  const spec = {
    'components.c2': 2,
    'components.c2.scan': 'a'.repeat(64),
    'components.c2.scanUnit': 'mm',
    'components.c3': 3,
    'components.c3.scan': 'b'.repeat(64),
    'components.c3.scanUnit': 'mm',
  };
  const { verdict, jobs } = evaluateRow(scanCoverage, { name: 'three', subject, measured: { at: [1, 2, 3] }, spec });
  expect(verdict).toMatchObject({ witness: { at: [1, 2, 3] } });
  expect(jobs[0]).toMatchObject({ scans: [`${'a'.repeat(64)}-mm`, `${'b'.repeat(64)}-mm`] });
  expect(evaluateRow(scanCoverage, { name: 'none', subject, measured: { at: null } }).verdict).not.toHaveProperty(
    'witness',
  );
});
