import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { slipJointClearance } from './rule.ts';

const subject = 'l1';
/** What heat takes of the base joint, m. */
const loss = 0.000089563864864865;

ruleTable(slipJointClearance, [
  {
    kind: 'pass',
    name: 'a race fit keeps room',
    subject,
    expect: 'pass',
    message: 'loses',
    limit: 0.05e-3,
    value: 0.35e-3 - loss,
  },
  {
    kind: 'fail',
    name: 'a tight fit seizes',
    subject,
    spec: { 'slipJoints.l1.clearance': 0.0001 },
    expect: 'fail',
    message: 'loses',
  },
  {
    kind: 'boundary',
    name: '0.05 mm have to be left',
    subject,
    move: 'slipJoints.l1.clearance',
    inside: 0.00035,
    outside: 0.00005,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.05e-3,
    at: 0.05e-3 + loss,
  },
  {
    kind: 'published',
    name: '48.3 mm of 625 at 850 and 600 C loses 0.226 mm',
    subject,
    spec: { 'slipJoints.l1.innerTemperature': 1123.15, 'slipJoints.l1.outerTemperature': 873.15 },
    expect: 'pass',
    value: 0.124e-3,
    tolerance: 3e-2,
    citation: 'own arithmetic, vector 5.9 (expansion rounded to 15.7 and 14.4 um/m/K): 0.35 mm cold leaves 0.124 mm',
  },
  {
    kind: 'pass',
    name: 'an outer tube that is the hotter one opens the fit',
    subject,
    spec: { 'slipJoints.l1.innerTemperature': 973.15, 'slipJoints.l1.outerTemperature': 1073.15 },
    expect: 'pass',
    value: 0.35e-3 + loss,
  },
  {
    kind: 'validity',
    name: 'a tube hotter than the expansion table of 304',
    subject,
    spec: { 'tube.alloy': '304', 'slipJoints.l1.innerTemperature': 1350 },
    expect: 'unknown',
    path: 'expansion of alloy 304',
  },
]);
