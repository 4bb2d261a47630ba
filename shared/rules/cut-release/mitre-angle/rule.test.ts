import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { mitreAngle } from './rule.ts';

const subject = 'm1';
const degree = Math.PI / 180;

ruleTable(
  mitreAngle,
  [
    {
      kind: 'pass',
      name: 'five joints in a quarter bend',
      subject,
      expect: 'pass',
      message: 'wedges',
      limit: 22.5 * degree,
      value: 9 * degree,
    },
    {
      kind: 'fail',
      name: 'one joint in a quarter bend',
      subject,
      spec: { 'mitres.m1.joints': 1 },
      expect: 'fail',
      message: 'wedges',
      value: 45 * degree,
    },
    {
      kind: 'boundary',
      name: '22.5 deg from square',
      subject,
      spec: { 'mitres.m1.joints': 2 },
      move: 'mitres.m1.angle',
      inside: 1,
      outside: 3,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 22.5 * degree,
      at: 90 * degree,
    },
    {
      kind: 'published',
      name: 'nine joints in a quarter bend, 5 deg each',
      subject,
      spec: { 'tube.outsideDiameter': 0.0445, 'mitres.m1.joints': 9 },
      expect: 'pass',
      value: 5 * degree,
      citation: 'own arithmetic, mitre table: 90 deg, R 66.75, D 44.5, n 9: saw 5 deg',
    },
    {
      kind: 'inconsistent',
      name: 'a radius inside the tube',
      subject,
      spec: { 'mitres.m1.radius': 0.02 },
      expect: 'unknown',
    },
  ],
  {
    without: { validity: 'the form bounds angle, radius and number of joints to where the geometry holds' },
    optional: { 'route.made': 'while no route is chosen cutting is not left out' },
  },
);

it('says nothing of a header that is only printed', () => {
  expect(
    evaluateRow(mitreAngle, { name: 'printed', subject, spec: { 'route.made': 'printed' } }).verdict,
  ).toBeUndefined();
});
