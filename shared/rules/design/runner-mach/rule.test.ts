import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { workedPrimary } from '../../../../tests/support/workedPrimary.ts';
import { runnerMach } from './rule.ts';

const subject = 'r1';
/** The base spec by hand: exhaust table for lambda 0.85 at 1173.15 K gives R 300.945 J/(kg.K) and 674.69 m/s. */
const massFlow = ((0.95 * 180e3 * 0.0008 * 100) / (287.05 * 320 * 2)) * (1 + 1 / (0.85 * 14.7));
const baseMach = massFlow / 2 / ((200e3 / (300.945 * 1173.15)) * (Math.PI / 4) * 0.0405 ** 2) / 674.69;
const narrow = { 'tube.outsideDiameter': 0.0245 };

ruleTable(
  runnerMach,
  [
    {
      kind: 'pass',
      name: 'an ample runner passes',
      subject,
      expect: 'pass',
      message: 'speed',
      value: baseMach,
      tolerance: 2e-5,
      limit: 0.45,
    },
    {
      kind: 'fail',
      name: 'a narrow runner at high speed fails',
      subject,
      spec: { ...narrow, 'engine.peakSpeed': 200 },
      expect: 'fail',
      message: 'speed',
    },
    {
      kind: 'boundary',
      name: 'caution starts above 0.35',
      subject,
      spec: narrow,
      move: 'engine.peakSpeed',
      inside: 100,
      outside: 130,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0.35,
    },
    {
      kind: 'boundary',
      name: 'failure starts above 0.45',
      subject,
      spec: narrow,
      move: 'engine.peakSpeed',
      inside: 130,
      outside: 200,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 0.45,
    },
    {
      kind: 'published',
      name: 'worked primary: 81.57 m/s in gas of 693.67 m/s sound speed',
      subject,
      spec: workedPrimary(),
      expect: 'pass',
      value: 81.568 / 693.67,
      tolerance: 5e-4,
      citation: 'own, examples E-19 and E-03 through E-01 and E-02',
    },
    {
      kind: 'pass',
      name: 'cylinders of the other bank take their share of the flow',
      subject,
      spec: { 'engine.firingOrder': '1-3-2-4', 'engine.displacement': 0.0016 },
      expect: 'pass',
      // Twice the engine on twice the cylinders: as the base spec.
      value: baseMach,
      tolerance: 2e-5,
    },
    {
      kind: 'inconsistent',
      name: 'a cylinder twice in the firing order',
      subject,
      spec: { 'engine.firingOrder': '1-2-1' },
      expect: 'unknown',
      path: 'engine.firingOrder',
    },
    {
      kind: 'inconsistent',
      name: 'two runners on one cylinder',
      subject,
      spec: { 'runners.r2.cylinder': 1 },
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
