import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { scanUnits } from './rule.ts';

const subject = 'c1';
const wide = (x: number) => ({ least: [0, 0, 0], greatest: [x, 0, 0] });
const second = { 'components.c2': 2, 'components.c2.scan': 'b'.repeat(64), 'components.c2.scanUnit': 'mm' };

ruleTable(scanUnits, [
  {
    kind: 'pass',
    name: 'a component of a metre over ports 100 mm apart passes',
    subject,
    measured: {},
    expect: 'pass',
    value: Math.hypot(8, 6, 6),
    limit: 40,
    message: 'size',
    says: 'Diagonal 1166.19 mm, ports 100.00 mm apart.',
  },
  {
    kind: 'fail',
    name: 'a bay of a metre read as inches instead of millimetres fails',
    subject,
    measured: wide(25.4),
    expect: 'fail',
    message: 'size',
  },
  {
    kind: 'boundary',
    name: 'ports so near one another that the bay is forty of them',
    subject,
    measured: {},
    move: 'runners.r2.nodes.n1.x',
    inside: 0.1,
    outside: 0.01,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 40,
    at: Math.hypot(0.8, 0.6, 0.6) / 40,
  },
  {
    kind: 'boundary',
    name: 'ports so far apart that a component is three tenths of that',
    subject,
    measured: wide(0.3),
    move: 'runners.r2.nodes.n1.x',
    inside: 0.1,
    outside: 2,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.3,
    at: 1,
  },
  {
    kind: 'published',
    name: 'a bay of 3 m is thirty ports of 100 mm',
    subject,
    measured: wide(3),
    expect: 'pass',
    value: 30,
    citation: 'own: engine bays are 300 to 3000 mm across; ports of car engines stand 80 to 110 mm apart',
  },
  {
    kind: 'validity',
    name: 'a single runner has no neighbour to measure by',
    subject,
    spec: { 'runners.r2': undefined },
    measured: {},
    expect: 'unknown',
    path: 'ports apart',
  },
  { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
]);

describe('several components', () => {
  it.each([
    [0.29, 'fail', 'fail'],
    [0.3, 'fail', 'pass'],
    [3.01, 'pass', 'pass'],
    [40.1, 'fail', 'fail'],
  ])('of %d pitches: together %s, each %s', (pitches, all, each) => {
    const row = { name: 'several', measured: wide(pitches / 10), spec: second };
    expect(evaluateRow(scanUnits, { ...row, subject: 'bay' }).verdict?.status).toBe(all);
    expect(evaluateRow(scanUnits, { ...row, subject: 'c2' }).verdict?.status).toBe(each);
  });

  it('are not judged together when there is only one', () => {
    expect(evaluateRow(scanUnits, { name: 'one', subject: 'bay', measured: {} }).verdict).toBeUndefined();
  });

  it('wait for a scan that one of them has not', () => {
    const spec = { ...second, 'components.c2.scan': undefined };
    const row = { name: 'no scan', measured: {}, spec };
    expect(evaluateRow(scanUnits, { ...row, subject: 'bay' }).verdict).toMatchObject({
      why: { reason: 'missing', paths: ['components.c2.scan'] },
    });
    expect(evaluateRow(scanUnits, { ...row, subject: 'c1' }).verdict?.status).toBe('pass');
  });
});

it('takes two ports at one place for none', () => {
  const spec = { 'runners.r2.nodes.n1.x': 0 };
  expect(evaluateRow(scanUnits, { name: 'one place', subject, measured: {}, spec }).verdict).toMatchObject({
    why: { reason: 'outOfValidity', input: 'ports apart', value: 0 },
  });
});
