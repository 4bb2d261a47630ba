import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { weldCurrent } from './rule.ts';

const subject = 'j1';
const rule2mm = 2e-3 / 25.4e-6;

ruleTable(weldCurrent, [
  {
    kind: 'pass',
    name: '55 A on 2 mm passes',
    subject,
    expect: 'pass',
    message: 'window',
    value: 55,
    limit: 0.65 * rule2mm,
  },
  {
    kind: 'fail',
    name: 'too little current fails',
    subject,
    spec: { 'joints.j1.current': 40 },
    expect: 'fail',
    message: 'window',
  },
  {
    kind: 'boundary',
    name: 'bottom of the window',
    subject,
    move: 'joints.j1.current',
    inside: 60,
    outside: 40,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.65 * rule2mm,
    at: 0.65 * rule2mm,
  },
  {
    kind: 'boundary',
    name: 'top of the pedal',
    subject,
    move: 'joints.j1.current',
    inside: 60,
    outside: 100,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: rule2mm,
    at: rule2mm,
  },
  {
    kind: 'published',
    name: '40 A on 1.5 mm stainless, closed butt',
    subject,
    spec: { 'joints.j1.wall': 1.5e-3, 'joints.j1.current': 40 },
    expect: 'pass',
    value: 40,
    limit: 0.65 * 59.0551,
    tolerance: 1e-5,
    citation: 'public thin-sheet table: 1.5 mm stainless 40 A, 0.677 of the rule, vector WE-12',
  },
  {
    kind: 'validity',
    name: 'a wall above 3 mm',
    subject,
    spec: { 'joints.j1.wall': 3.1e-3 },
    expect: 'unknown',
    path: 'wall',
  },
  {
    kind: 'validity',
    name: 'a wall below 0.8 mm',
    subject,
    spec: { 'joints.j1.wall': 0.7e-3 },
    expect: 'unknown',
    path: 'wall',
  },
]);
