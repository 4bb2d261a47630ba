import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { workedPrimary } from '../../../../tests/support/workedPrimary.ts';
import { collectorMach } from './rule.ts';

const subject = 'outlet';
const single = { 'outlet.entries': 1 };
const narrow = { ...single, 'collector.outletDiameter': 0.03 };
/** The base spec by hand: exhaust table for lambda 0.85 at 1173.15 K gives R 300.945 J/(kg.K) and 674.69 m/s; all of it through 60 mm. */
const massFlow = ((0.95 * 180e3 * 0.0008 * 100) / (287.05 * 320 * 2)) * (1 + 1 / (0.85 * 14.7));
const baseMach = massFlow / ((200e3 / (300.945 * 1173.15)) * (Math.PI / 4) * 0.06 ** 2) / 674.69;
/** The worked example with all four runners. */
const four = {
  ...workedPrimary(),
  ...single,
  'runners.r3': 3,
  'runners.r3.cylinder': 3,
  'runners.r4': 4,
  'runners.r4.cylinder': 4,
};

ruleTable(
  collectorMach,
  [
    {
      kind: 'pass',
      name: 'an ample outlet passes',
      subject,
      spec: single,
      expect: 'pass',
      message: 'speed',
      value: baseMach,
      tolerance: 2e-5,
      limit: 0.5,
    },
    {
      kind: 'fail',
      name: 'a narrow outlet fails',
      subject,
      spec: { ...single, 'collector.outletDiameter': 0.02 },
      expect: 'fail',
      message: 'speed',
    },
    {
      kind: 'boundary',
      name: 'caution starts above 0.40',
      subject,
      spec: narrow,
      move: 'engine.peakSpeed',
      inside: 100,
      outside: 150,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0.4,
    },
    {
      kind: 'boundary',
      name: 'failure starts above 0.50',
      subject,
      spec: narrow,
      move: 'engine.peakSpeed',
      inside: 150,
      outside: 200,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 0.5,
    },
    {
      kind: 'published',
      name: 'worked collector of 60.3 mm: 150.1 m/s',
      subject,
      spec: { ...four, 'collector.outletDiameter': 0.0603 },
      expect: 'pass',
      value: 0.2164,
      tolerance: 1e-3,
      citation: 'own, example E-05 through E-01 to E-03',
    },
    {
      kind: 'published',
      name: 'worked collector of 50.0 mm: 218.3 m/s',
      subject,
      spec: { ...four, 'collector.outletDiameter': 0.05 },
      expect: 'pass',
      value: 0.3147,
      tolerance: 1e-3,
      citation: 'own, example E-05 through E-01 to E-03',
    },
    {
      kind: 'pass',
      name: 'one entry of a divided inlet carries its own runners only',
      subject: 'entry-2',
      expect: 'pass',
      value: baseMach / 2,
      tolerance: 2e-5,
    },
    {
      kind: 'inconsistent',
      name: 'an entry that no runner feeds',
      subject: 'entry-2',
      spec: { 'runners.r2.entry': 1 },
      expect: 'unknown',
      path: 'runners.r2.entry',
    },
    {
      kind: 'inconsistent',
      name: 'two runners on one cylinder',
      subject,
      spec: { ...single, 'runners.r2.cylinder': 1 },
      expect: 'unknown',
      path: 'runners.r2.cylinder',
    },
  ],
  {
    without: {
      validity:
        'the bounds of the spec fields lie inside the ranges of the gas formulas: a value beyond reads as missing',
    },
  },
);
