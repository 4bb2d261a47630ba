import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { workedPrimary } from '../../../../tests/support/workedPrimary.ts';
import { runnerLoss } from './rule.ts';

const subject = 'r1';
const narrow = { 'tube.outsideDiameter': 0.0245 };

ruleTable(runnerLoss, [
  { kind: 'pass', name: 'an ample runner passes', subject, expect: 'pass', message: 'parts', limit: 10e3 },
  {
    kind: 'fail',
    name: 'a narrow runner at high speed fails',
    subject,
    spec: { ...narrow, 'engine.peakSpeed': 200 },
    expect: 'fail',
    message: 'parts',
  },
  {
    kind: 'boundary',
    name: 'five per cent of the exhaust pressure',
    subject,
    spec: narrow,
    move: 'engine.peakSpeed',
    inside: 50,
    outside: 200,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 10e3,
  },
  {
    kind: 'published',
    name: 'worked primary: 2176 Pa, 0.73 % of 300 kPa',
    subject,
    spec: workedPrimary(),
    expect: 'pass',
    value: 2176,
    tolerance: 0.02,
    limit: 15e3,
    citation: 'own, example E-19 through E-01, E-02 and E-03: Colebrook friction and Miller bends',
  },
  {
    kind: 'validity',
    name: 'a bend wider than the chart',
    subject,
    spec: { ...narrow, 'tube.wall': 0.004, 'runners.r1.nodes.n2.radius': 0.1 },
    expect: 'unknown',
    path: 'radiusRatio',
  },
  {
    kind: 'validity',
    name: 'too little flow for the bend chart',
    subject,
    spec: { 'engine.peakSpeed': 10 },
    expect: 'unknown',
    path: 'reynolds',
  },
  {
    kind: 'inconsistent',
    name: 'a wall that fills the tube',
    subject,
    spec: { 'tube.outsideDiameter': 0.012, 'tube.wall': 0.006 },
    expect: 'unknown',
    path: 'tube.wall',
  },
  {
    kind: 'inconsistent',
    name: 'a cylinder that never fires',
    subject,
    spec: { 'runners.r1.cylinder': 3 },
    expect: 'unknown',
    path: 'runners.r1.cylinder',
  },
]);
