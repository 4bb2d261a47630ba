import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { tungstenStickout } from './rule.ts';

const subject = 'j1';
const lens = { 'joints.j1.cup': 'gas-lens' };

ruleTable(tungstenStickout, [
  {
    kind: 'pass',
    name: '6 mm of a 2.4 mm tungsten passes',
    subject,
    expect: 'pass',
    message: 'shielded',
    value: 6e-3,
    limit: 7.2e-3,
  },
  {
    kind: 'fail',
    name: '10 mm without a gas lens fails',
    subject,
    spec: { 'joints.j1.stickOut': 0.01 },
    expect: 'fail',
    message: 'shielded',
  },
  {
    kind: 'boundary',
    name: 'three diameters from a collet body',
    subject,
    move: 'joints.j1.stickOut',
    inside: 0.005,
    outside: 0.01,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 7.2e-3,
    at: 7.2e-3,
  },
  {
    kind: 'boundary',
    name: 'a gas lens cautions above three diameters',
    subject,
    spec: lens,
    move: 'joints.j1.stickOut',
    inside: 0.005,
    outside: 0.01,
    expectInside: 'pass',
    expectOutside: 'caution',
    limit: 7.2e-3,
  },
  {
    kind: 'boundary',
    name: 'a gas lens fails above six diameters',
    subject,
    spec: lens,
    move: 'joints.j1.stickOut',
    inside: 0.01,
    outside: 0.02,
    expectInside: 'caution',
    expectOutside: 'fail',
    limit: 14.4e-3,
  },
  {
    kind: 'published',
    name: '7.2 mm of 2.4 mm is the most of a standard cup',
    subject,
    spec: { 'joints.j1.stickOut': 7.2e-3 },
    expect: 'pass',
    value: 7.2e-3,
    limit: 7.2e-3,
    citation: 'torch maker handbook page, vector WE-22b: 3 x 2.4 = 7.2 mm',
  },
  {
    kind: 'validity',
    name: 'a tungsten above 6 mm',
    subject,
    spec: { 'joints.j1.tungsten': 6.4e-3 },
    expect: 'unknown',
    path: 'tungsten',
  },
]);
