import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { hotRetorque } from './rule.ts';

const subject = 'studs';

ruleTable(
  hotRetorque,
  [
    {
      kind: 'pass',
      name: 'tightened to the stated torque after three cycles',
      subject,
      expect: 'pass',
      message: 'done',
      value: 20,
      limit: 22,
    },
    {
      kind: 'fail',
      name: 'tightened to half the torque',
      subject,
      spec: { 'retorque.torque': 10 },
      expect: 'fail',
      message: 'done',
      limit: 18,
    },
    {
      kind: 'boundary',
      name: '10 % below',
      subject,
      move: 'retorque.torque',
      inside: 20,
      outside: 15,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 18,
      at: 18,
    },
    {
      kind: 'boundary',
      name: '10 % above',
      subject,
      move: 'retorque.torque',
      inside: 20,
      outside: 25,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 22,
      at: 22,
    },
    {
      kind: 'published',
      name: '14 N.m asked for, 14.5 given',
      subject,
      spec: { 'stud.torque': 14, 'retorque.torque': 14.5, 'retorque.date': '2028-02-29' },
      expect: 'pass',
      value: 14.5,
      limit: 15.4,
      citation: 'own arithmetic: 14 x 1.1; 2028 is a leap year',
    },
    // 5 % of the 4 N.m between 18 and 22 is 0.2 N.m: nearer than that to a side is close.
    ...(
      [
        [18.15, true],
        [18.25, false],
        [21.75, false],
        [21.85, true],
      ] as const
    ).map(([torque, close]) => ({
      kind: 'published' as const,
      name: `${torque} N.m is ${close ? 'close to' : 'clear of'} its side`,
      subject,
      spec: { 'retorque.torque': torque },
      expect: 'pass' as const,
      close,
      value: torque,
      citation: 'own arithmetic: 20 N.m with 10 % either way',
    })),
    {
      kind: 'pass',
      name: 'one heat cycle is enough',
      subject,
      spec: { 'retorque.cycles': 1 },
      expect: 'pass',
      value: 20,
    },
    ...[
      '2026-02-30',
      '2027-02-29',
      '2100-02-29',
      '2026-13-01',
      '2026-00-10',
      '2026-04-31',
      '1.3.2026',
      'yesterday',
    ].map((date) => ({
      kind: 'inconsistent' as const,
      name: `no such day: ${date}`,
      subject,
      spec: { 'retorque.date': date },
      expect: 'unknown' as const,
      path: 'retorque.date',
    })),
    {
      kind: 'inconsistent',
      name: 'before it was ever hot',
      subject,
      spec: { 'retorque.cycles': 0 },
      expect: 'unknown',
      path: 'expected at least one heat cycle before tightening again, got 0","paths":["retorque.cycles"]',
    },
  ],
  { without: { validity: 'a share of the stated torque holds for any torque' } },
);
