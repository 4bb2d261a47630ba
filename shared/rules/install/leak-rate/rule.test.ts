import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { leakRate } from './rule.ts';

const subject = 'header';
const slips = { 'leakTest.joints': 'slip-joints' };
const litrePerMinute = (1e-3 / 60) * 101325;

ruleTable(
  leakRate,
  [
    {
      kind: 'pass',
      name: 'a welded header that loses 100 Pa in 5 minutes passes',
      subject,
      expect: 'pass',
      message: 'decay',
      value: (0.004 * 100) / 300,
      limit: 0.01,
    },
    {
      kind: 'fail',
      name: 'a welded header that loses 3 kPa fails',
      subject,
      spec: { 'leakTest.endPressure': 147e3 },
      expect: 'fail',
      message: 'decay',
    },
    {
      kind: 'boundary',
      name: 'a welded header that loses 750 Pa in 5 minutes',
      subject,
      move: 'leakTest.endPressure',
      inside: 149.9e3,
      outside: 148e3,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.01,
      at: 149250,
    },
    {
      kind: 'boundary',
      name: 'slip joints above 5 L/min caution',
      subject,
      spec: { ...slips, 'leakTest.duration': 10 },
      move: 'leakTest.endPressure',
      inside: 149e3,
      outside: 120e3,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 5 * litrePerMinute,
    },
    {
      kind: 'boundary',
      name: 'slip joints above 20 L/min fail',
      subject,
      spec: { ...slips, 'leakTest.duration': 10 },
      move: 'leakTest.endPressure',
      inside: 120e3,
      outside: 60e3,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 20 * litrePerMinute,
    },
    {
      kind: 'published',
      name: 'worked decay: 500 Pa in 60 s from 2.5 L',
      subject,
      spec: {
        ...slips,
        'leakTest.volume': 0.0025,
        'leakTest.startPressure': 201325,
        'leakTest.endPressure': 200825,
        'leakTest.duration': 60,
      },
      expect: 'pass',
      value: 0.020833,
      tolerance: 2e-5,
      citation: 'own, worked example WE-20c: 0.020833 Pa.m3/s, 686.76 Pa/K',
    },
    {
      kind: 'pass',
      name: 'a fall that the cooling explains is no leak',
      subject,
      spec: { 'leakTest.endTemperature': 292.15, 'leakTest.endPressure': (150e3 * 292.15) / 293.15 },
      expect: 'pass',
      value: 0,
    },
    {
      kind: 'inconsistent',
      name: 'more pressure at the end than the warming explains',
      subject,
      spec: { 'leakTest.endPressure': 151e3 },
      expect: 'unknown',
    },
  ],
  { without: { validity: 'the bounds of the spec fields lie inside the range of the formula' } },
);
