import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { shrinkageBudget } from './rule.ts';

const subject = 'n1';
const worked = { 'chains.n1.joints': 1, 'chains.n1.wall': 1.6e-3, 'chains.n1.rootGap': 0 };

ruleTable(shrinkageBudget, [
  {
    kind: 'pass',
    name: 'three joints with 3 mm of slack pass',
    subject,
    expect: 'pass',
    message: 'estimates',
    value: 3 * ((0.2 * 6.3e-6) / 2e-3 + 0.05 * 0.2e-3),
    limit: 3e-3,
  },
  {
    kind: 'pass',
    name: 'a wall of 1 mm is judged',
    subject,
    spec: { 'chains.n1.wall': 1e-3, 'chains.n1.slack': 5e-3 },
    expect: 'pass',
    value: 3 * ((0.2 * 6.3e-6) / 1e-3 + 0.05 * 0.2e-3),
  },
  {
    kind: 'pass',
    name: 'a wall of 3 mm is judged',
    subject,
    spec: { 'chains.n1.wall': 3e-3 },
    expect: 'pass',
    value: 3 * ((0.2 * 6.3e-6) / 3e-3 + 0.05 * 0.2e-3),
  },
  {
    kind: 'fail',
    name: 'no slack fails',
    subject,
    spec: { 'chains.n1.slack': 0 },
    expect: 'fail',
    message: 'estimates',
  },
  {
    kind: 'boundary',
    name: 'a bead that takes all the slack',
    subject,
    move: 'chains.n1.weldArea',
    inside: 6e-6,
    outside: 2e-5,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 3e-3,
    at: ((1e-3 - 0.05 * 0.2e-3) * 2e-3) / 0.2,
  },
  {
    kind: 'published',
    name: 'a butt of 6.3 mm2 in 1.6 mm wall shrinks 0.79 mm at most',
    subject,
    spec: worked,
    expect: 'pass',
    value: 0.7875e-3,
    tolerance: 1e-9,
    citation: 'own, worked example WE-18a after the handbook formula: 0.394 to 0.788 mm',
  },
  {
    kind: 'validity',
    name: 'a wall above 3 mm',
    subject,
    spec: { 'chains.n1.wall': 3.1e-3 },
    expect: 'unknown',
    path: 'wall',
  },
  {
    kind: 'validity',
    name: 'a wall below 1 mm',
    subject,
    spec: { 'chains.n1.wall': 0.9e-3 },
    expect: 'unknown',
    path: 'wall',
  },
]);
